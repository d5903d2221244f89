"""Stops, repairs, restarts and skips are events of a take, and what is read after them stays right."""

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.summary import ahead_percent
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import timed_grid
from game.judging.verdicts import OF_PACE, EventKind, Judgement, Verdict
from tests.judging.made_takes import expected_line, moved, perfect_take, played_note, random_line

QUARTER_S = 0.6
BAR_S = 4 * QUARTER_S
SEEDS = range(5)


class Played:
    """A line of 40 notes at 100 quarter notes a minute and a good take of it: 30 ms early, 20 ms spread."""

    def __init__(self, seed: int) -> None:
        rng = Random(seed)
        self.line = random_line(40, rng)
        self.grid = timed_grid([note.note for note in self.line], tempo_bpm=100)
        self.notes = [
            replace(note, started_s=note.started_s + rng.gauss(-0.03, 0.02))
            for note in perfect_take(self.line, self.grid)
        ]
        self.bar_3 = next(index for index, note in enumerate(self.line) if note.note.onset >= 8)
        self.bar_4 = next(index for index, note in enumerate(self.line) if note.note.onset >= 12)

    def judged(self, played: Sequence[PlayedNote]) -> Judgement:
        return judge_timed(self.line, sorted(played, key=lambda note: note.started_s), self.grid)


def words(judgement: Judgement) -> list[Verdict]:
    return [verdict.verdict for verdict in judgement.verdicts]


def events(judgement: Judgement) -> list[tuple[EventKind, int | None]]:
    return [(event.kind, event.n) for event in judgement.events]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("behind_click_s", [BAR_S, QUARTER_S, 2.5 * QUARTER_S, 3.1])
def test_a_stop_in_the_middle_is_one_event_and_the_rest_is_clean(seed: int, behind_click_s: float) -> None:
    take = Played(seed)
    judgement = take.judged([*take.notes[:15], *moved(take.notes[15:], behind_click_s)])
    assert words(judgement) == [Verdict.CLEAN] * 40
    a_beat = [(EventKind.FELL_BEHIND, 16)] if behind_click_s == QUARTER_S else []
    assert events(judgement) == [(EventKind.STOP, 16), *a_beat]
    assert judgement.extra == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_player_a_whole_bar_behind_is_clean_and_came_in_late(seed: int) -> None:
    take = Played(seed)
    judgement = take.judged(moved(take.notes, BAR_S))
    assert words(judgement) == [Verdict.CLEAN] * 40
    assert events(judgement) == [(EventKind.STOP, 1)]
    assert judgement.verdicts[0].offset_ms == pytest.approx((take.notes[0].started_s - take.grid.onsets_s[0]) * 1000)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_bar_gone_over_again_is_a_restart_and_its_first_reading_counts(seed: int) -> None:
    take = Played(seed)
    first = [*take.notes[: take.bar_4]]
    first[take.bar_3] = played_note(take.line[take.bar_3].sounding + 1, first[take.bar_3].started_s)
    judgement = take.judged([*first, *moved(take.notes[take.bar_3 :], BAR_S)])
    expected = [Verdict.CLEAN] * 40
    expected[take.bar_3] = Verdict.WRONG_PITCH
    assert words(judgement) == expected
    assert events(judgement) == [(EventKind.RESTART, take.bar_3 + 1)]
    assert judgement.extra == ()
    assert len(judgement.verdicts[take.bar_3].answers) == 2


UNLIKE_BARS = (
    *((1, 1, 2), (0.5, 0.5, 2, 1), (0.25, 0.25, 0.5, 1, 1.5, 0.5), (3, 1), (0.5, 0.25, 0.25, 1, 0.5, 0.5, 1)),
    *((1.5, 0.5, 0.25, 0.25, 0.25, 0.25, 1), (2, 0.25, 0.25, 0.25, 0.25, 1), (1, 0.5, 0.5, 0.75, 0.25, 1)),
    *(
        3 * (0.25, 0.25, 0.25, 0.25) + (1,),
        2 * (0.5, 0.25, 0.25) + (0.75, 0.25, 1),
        (0.75, 0.25, 0.5, 0.5, 0.5, 0.5, 1),
    ),
    *((1.5, 0.25, 0.25, 1.5, 0.5), (0.25, 0.25, 0.5, 0.5, 0.5, 1, 1), 4 * (0.25,) + 2 * (0.5,) + 4 * (0.25,) + (1,)),
)


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("bars_read", [6, 8, 10])
def test_in_rhythm_alone_who_begins_again_from_the_top_is_followed_there(seed: int, bars_read: int) -> None:
    """No two bars of the line are alike, so that they alone tell where the player is."""
    rng = Random(seed)
    bars = rng.sample(UNLIKE_BARS, len(UNLIKE_BARS))
    line = expected_line([60] * sum(map(len, bars)), [Fraction(length) for row in bars for length in row])
    grid = timed_grid([note.note for note in line], tempo_bpm=100)
    notes = [replace(note, started_s=note.started_s + rng.gauss(0, 0.015)) for note in perfect_take(line, grid)]
    read = sum(map(len, bars[:bars_read]))
    again = moved(notes, (bars_read * 4 + 2) * QUARTER_S)
    judgement = judge_timed(line, [*notes[:read], *again], grid, TimedRules(pitch_counts=False))
    assert [verdict.first for verdict in judgement.verdicts] == [*notes[:read], *again[read:]]
    assert events(judgement) == [(EventKind.RESTART, 1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_two_restarts_are_two_events(seed: int) -> None:
    take = Played(seed)
    again = moved(take.notes[take.bar_3 : take.bar_4 + 4], BAR_S)
    judgement = take.judged([*take.notes[: take.bar_4], *again, *moved(take.notes[take.bar_4 :], 9 * QUARTER_S)])
    assert words(judgement) == [Verdict.CLEAN] * 40
    assert events(judgement) == [
        (EventKind.RESTART, take.bar_3 + 1),
        (EventKind.RESTART, take.bar_4 + 1),
    ]


@pytest.mark.parametrize("seed", SEEDS)
def test_going_back_to_the_beginning_after_three_notes_is_a_restart(seed: int) -> None:
    take = Played(seed)
    judgement = take.judged([*take.notes[:3], *moved(take.notes, 2 * BAR_S)])
    assert words(judgement) == [Verdict.CLEAN] * 40
    assert events(judgement) == [(EventKind.RESTART, 1)]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("count", [1, 2, 3])
def test_a_false_start_is_a_restart_and_no_heap_of_extra_notes(seed: int, count: int) -> None:
    take = Played(seed)
    judgement = take.judged([*moved(take.notes[:count], -BAR_S), *take.notes])
    assert words(judgement) == [Verdict.CLEAN] * 40
    assert events(judgement) == [(EventKind.RESTART, 1)]
    assert judgement.extra == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_skipped_bar_is_missed_and_said_once(seed: int) -> None:
    take = Played(seed)
    judgement = take.judged([*take.notes[: take.bar_3], *moved(take.notes[take.bar_4 :], -BAR_S)])
    expected = [Verdict.CLEAN] * 40
    expected[take.bar_3 : take.bar_4] = [Verdict.MISSED] * (take.bar_4 - take.bar_3)
    assert words(judgement) == expected
    assert events(judgement) == [(EventKind.SKIP, take.bar_3 + 1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_silent_bar_is_missed_and_a_stop(seed: int) -> None:
    take = Played(seed)
    judgement = take.judged([*take.notes[: take.bar_3], *take.notes[take.bar_4 :]])
    expected = [Verdict.CLEAN] * 40
    expected[take.bar_3 : take.bar_4] = [Verdict.MISSED] * (take.bar_4 - take.bar_3)
    assert words(judgement) == expected
    if take.bar_4 - take.bar_3 >= 3:
        assert events(judgement) == [(EventKind.STOP, take.bar_3 + 1)]


@pytest.mark.parametrize("seed", SEEDS)
def test_a_wrong_note_mended_at_once_is_wrong_and_repaired(seed: int) -> None:
    take = Played(seed)
    wrong = played_note(take.line[10].sounding + 1, take.notes[10].started_s)
    mended = replace(take.notes[10], started_s=wrong.started_s + 0.25)
    judgement = take.judged([*take.notes[:10], wrong, mended, *take.notes[11:]])
    expected = [Verdict.CLEAN] * 40
    expected[10] = Verdict.WRONG_PITCH
    assert words(judgement) == expected
    assert events(judgement) == [(EventKind.REPAIR, 11)]
    assert judgement.verdicts[10].answers == (wrong, mended)
    assert judgement.extra == ()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_repair_that_costs_two_beats_is_one_event(seed: int) -> None:
    take = Played(seed)
    wrong = played_note(take.line[10].sounding + 1, take.notes[10].started_s)
    judgement = take.judged([*take.notes[:10], wrong, *moved(take.notes[10:], 2 * QUARTER_S)])
    expected = [Verdict.CLEAN] * 40
    expected[10] = Verdict.WRONG_PITCH
    assert words(judgement) == expected
    assert events(judgement) == [(EventKind.REPAIR, 11)]


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("waited_beats", [1, 1.5])
@pytest.mark.parametrize("faster", [0.0, 0.02, -0.03])
def test_who_waits_to_put_a_note_right_read_it_wrong_and_did_not_stop(
    seed: int, waited_beats: float, faster: float
) -> None:
    take = Played(seed)
    notes = [replace(note, started_s=note.started_s / (1 + faster)) for note in take.notes]
    neighbours = {note.sounding for note in take.line[18:23]}
    pitch = next(pitch for pitch in range(take.line[20].sounding + 1, 128) if pitch not in neighbours)
    wrong = played_note(pitch, notes[20].started_s)
    judgement = take.judged([*notes[:20], wrong, *moved(notes[20:], waited_beats * QUARTER_S)])
    assert judgement.verdicts[20].verdict is Verdict.WRONG_PITCH
    assert judgement.verdicts[20].answers == (wrong, *moved(notes[20:21], waited_beats * QUARTER_S))
    assert [event for event in events(judgement) if event[0] not in OF_PACE] == [(EventKind.REPAIR, 21)]
    assert judgement.extra == ()
    assert ahead_percent(judgement) == pytest.approx(100 * faster, abs=0.5)


@pytest.mark.parametrize("seed", SEEDS)
def test_giving_up_half_way_leaves_the_rest_unread(seed: int) -> None:
    take = Played(seed)
    judgement = take.judged(take.notes[:20])
    assert words(judgement) == [Verdict.CLEAN] * 20 + [Verdict.UNREAD] * 20
    assert events(judgement) == [(EventKind.STOP, 21)]


@pytest.mark.parametrize("seed", SEEDS)
def test_random_notes_are_no_reading(seed: int) -> None:
    take = Played(seed)
    rng = Random(seed)
    noise = [played_note(rng.randint(45, 72), at * 0.4) for at in range(60)]
    right = sum(word in {Verdict.CLEAN, Verdict.EARLY, Verdict.LATE} for word in words(take.judged(noise)))
    assert right <= 10
