"""The verdicts of what was read live, by the likeliest account."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.following.search import Trail
from game.judging.live_reading import LiveReading, begin_reading, read_note
from game.judging.live_verdicts import NOTHING_SO_FAR, StandingSoFar, verdicts_on
from game.judging.timed import judge_timed
from game.judging.timed_rows import written_rows
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.verdicts import NoteVerdict, Verdict
from game.neck.tuning import Place
from tests.judging.made_takes import expected_line, moved, perfect_take, played_note, random_line

LINE = expected_line([60, 62, 64, 65, 67, 69, 71, 72, 71, 69, 67, 65], [Fraction(1)] * 12)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=120)
PERFECT = perfect_take(LINE, GRID)
BEAT_S = 0.5
CLEAN = dict.fromkeys(range(12), Verdict.CLEAN)


@dataclass(frozen=True, slots=True, kw_only=True)
class HeardSoFar:
    """All that is asked of a take under way."""

    expected: tuple[ExpectedNote, ...]
    grid: TimedGrid
    rules: TimedRules
    reading: LiveReading
    heard: tuple[PlayedNote, ...]
    settled: Trail | None = None
    answered: StandingSoFar = NOTHING_SO_FAR
    read_to: int = 0


def heard_along(
    played: Sequence[PlayedNote], rules: TimedRules = DEFAULT_RULES, line=LINE, grid=GRID
) -> list[HeardSoFar]:
    """The take after no note, after one, and so on."""
    reading = begin_reading(written_rows(line, grid, rules))
    found = [HeardSoFar(expected=tuple(line), grid=grid, rules=rules, reading=reading, heard=())]
    for count, note in enumerate(played, start=1):
        reading = read_note(reading, note, pitch_counts=rules.pitch_counts)
        found.append(replace(found[0], reading=reading, heard=tuple(played[:count])))
    return found


def heard(played: Sequence[PlayedNote], rules: TimedRules = DEFAULT_RULES, line=LINE, grid=GRID) -> HeardSoFar:
    return heard_along(played, rules, line, grid)[-1]


def words(take: HeardSoFar) -> dict[int, Verdict]:
    return {index: verdict.verdict for index, verdict in verdicts_on(take)[1].items()}


def changed(index: int, **changes: object) -> list[PlayedNote]:
    return [replace(note, **changes) if at == index else note for at, note in enumerate(PERFECT)]


def test_a_take_as_written_has_the_verdicts_of_the_whole_take():
    answered, verdicts = verdicts_on(heard(PERFECT))
    assert tuple(verdicts.values()) == judge_timed(LINE, PERFECT, GRID).verdicts
    assert (answered.last_at, answered.last, answered.behind_click_s) == (11, verdicts[11], 0.0)
    assert (answered.asked_s, answered.last_s) == (PERFECT[10].started_s, PERFECT[11].started_s)


def test_of_nothing_heard_there_is_nothing_to_tell():
    assert verdicts_on(heard([])) == (NOTHING_SO_FAR, {})


@pytest.mark.parametrize(("by_s", "word"), [(-0.13, Verdict.EARLY), (-0.12, Verdict.CLEAN), (0.13, Verdict.LATE)])
def test_a_note_out_of_its_tolerance_is_early_or_late_by_the_click(by_s: float, word: Verdict):
    take = heard(changed(4, started_s=PERFECT[4].started_s + by_s))
    assert words(take) == CLEAN | {4: word}
    assert verdicts_on(take)[1][4].offset_ms == pytest.approx(1000 * by_s)


def test_drift_is_not_taken_out():
    """Five in a hundred slower, the sixth note is late by the click, and right."""
    slower = [replace(note, started_s=1.05 * note.started_s) for note in PERFECT]
    assert words(heard(slower)) == CLEAN | dict.fromkeys(range(6, 12), Verdict.LATE)


@pytest.mark.parametrize("wait_s", [BEAT_S, 4 * BEAT_S, 1.3])
def test_after_a_stop_notes_are_counted_from_where_the_player_goes_on(wait_s: float):
    answered, verdicts = verdicts_on(heard([*PERFECT[:5], *moved(PERFECT[5:], wait_s)]))
    assert {index: verdict.verdict for index, verdict in verdicts.items()} == CLEAN
    assert answered.behind_click_s == pytest.approx(wait_s)
    assert [verdict.offset_ms for verdict in verdicts.values()] == pytest.approx([0.0] * 12, abs=1e-6)


def test_the_first_reading_of_a_note_stands_when_it_is_gone_over_again():
    played = changed(2, sounding=70, place=None)
    answered, verdicts = verdicts_on(heard([*played[:8], *moved(PERFECT[:], 5.0)]))
    assert verdicts[2].verdict is Verdict.WRONG_PITCH
    assert [verdicts[index].verdict for index in (8, 9, 10, 11)] == [Verdict.CLEAN] * 4
    assert answered.behind_click_s == pytest.approx(5.0)


def test_notes_read_before_all_was_clear_last_are_not_told_again():
    take = heard([*PERFECT[:8], *moved(PERFECT[:], 5.0)])
    assert sorted(words(replace(take, read_to=8))) == [8, 9, 10, 11]


@pytest.mark.parametrize("seed", range(10))
def test_going_on_from_where_all_was_clear_tells_what_the_whole_would_have_told(seed: int):
    """A bar behind the click since the fourth note."""
    rng = Random(seed)
    wandering = [replace(note, started_s=note.started_s + rng.gauss(0, 0.04)) for note in PERFECT]
    played = [*wandering[:4], *moved(wandering[4:], 4 * BEAT_S)]
    *parts, whole = heard_along(played)
    clear = [part for part in parts if part.reading.settled]
    assert len(clear) >= 5
    for part in clear:
        answered, told = verdicts_on(part)
        read_to = part.reading.top.written + 1
        further = replace(whole, settled=part.reading.top.trail, answered=answered, read_to=read_to)
        after, more = verdicts_on(further)
        assert (after, told | more) == verdicts_on(whole)


# Notes too many.
def test_a_note_too_many_after_a_right_one_changes_nothing():
    extra = played_note(70, PERFECT[4].started_s + 0.2)
    assert verdicts_on(heard([*PERFECT[:5], extra]))[1] == verdicts_on(heard(PERFECT[:5]))[1]


def put_right(apart_s: float, pitch: int = 67) -> NoteVerdict:
    """Note 4, wrong by a third on another string, and then this."""
    wrong = replace(PERFECT[4], sounding=64, place=Place(4, 2))
    right = played_note(pitch, PERFECT[4].started_s + apart_s)
    return verdicts_on(heard([*PERFECT[:4], wrong, right, *PERFECT[5:]]))[1][4]


def test_a_wrong_note_put_right_stays_wrong_and_keeps_both_answers():
    verdict = put_right(0.25)
    assert (verdict.verdict, [note.sounding for note in verdict.answers]) == (Verdict.WRONG_PITCH, [64, 67])
    assert verdict.time_to_find_ms == pytest.approx(750)


def test_another_wrong_note_after_a_wrong_one_is_no_answer():
    assert len(put_right(0.25, 66).answers) == 1


def slid(from_fret: int, apart_s: float, started_s: float) -> NoteVerdict:
    """Note 4 plucked off its home's fret and slid into."""
    home = PERFECT[4].place
    assert home is not None
    pluck = replace(
        PERFECT[4], sounding=67 + from_fret, place=Place(home.string, home.fret + from_fret), started_s=started_s
    )
    arrival = replace(PERFECT[4], started_s=started_s + apart_s)
    return verdicts_on(heard([*PERFECT[:4], pluck, arrival, *PERFECT[5:]]))[1][4]


def test_a_slide_that_arrives_makes_the_note_right_in_time_from_its_pluck():
    verdict = slid(-2, 0.15, PERFECT[4].started_s)
    assert (verdict.verdict, [note.sounding for note in verdict.answers]) == (Verdict.CLEAN, [67])
    assert verdict.offset_ms == pytest.approx(0.0)


def test_a_slide_begun_before_its_time_is_in_time_by_its_arrival():
    verdict = slid(-2, 0.15, PERFECT[4].started_s - 0.15)
    assert verdict.verdict is Verdict.CLEAN
    assert verdict.offset_ms == pytest.approx(0.0, abs=0.001)


# The rules.
def test_where_only_the_rhythm_counts_any_pitch_is_right():
    drummed = [replace(note, sounding=55, place=None) for note in PERFECT]
    assert words(heard(drummed, TimedRules(pitch_counts=False))) == CLEAN


def test_a_helped_note_is_hinted():
    assert words(heard(PERFECT, TimedRules(hinted=frozenset({3})))) == CLEAN | {2: Verdict.HINTED}


@pytest.mark.parametrize("seed", range(5))
def test_of_a_player_with_a_spread_the_words_are_those_of_the_whole_take(seed: int):
    rng = Random(seed)
    line = random_line(60, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=90)
    played = [replace(note, started_s=note.started_s + rng.gauss(-0.02, 0.03)) for note in perfect_take(line, grid)]
    played.sort(key=lambda note: note.started_s)
    final = {index: verdict.verdict for index, verdict in enumerate(judge_timed(line, played, grid).verdicts)}
    assert words(heard(played, line=line, grid=grid)) == final


def test_the_first_notes_after_a_stop_tell_together_where_the_new_beat_is():
    """The first of them 60 ms late, after a stop of two seconds; one that is 80 ms early then is in time."""
    late = list(moved(PERFECT[4:], 2.0))
    late[0] = replace(late[0], started_s=late[0].started_s + 0.06)
    late[4] = replace(late[4], started_s=late[4].started_s - 0.08)
    take = heard([*PERFECT[:4], *late])
    told = verdicts_on(take)[1][8]
    assert (told.verdict, round(told.offset_ms)) == (Verdict.CLEAN, -80)
