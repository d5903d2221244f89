"""A whole timed take judged at its end: one mistake is one verdict, and its neighbours stay right."""

from dataclasses import replace
from fractions import Fraction
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import ExpectedNote
from game.judging.summary import summary_of
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.verdicts import Cause, Judgement, Verdict
from game.neck.tuning import Place
from tests.judging.made_takes import (
    Errors,
    expected_line,
    made_take,
    moved,
    perfect_take,
    played_note,
    random_line,
    verdict_as_made,
)

LINE = expected_line([60, 62, 64, 65, 67, 65, 64, 62], [Fraction(1)] * 8)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=120)
PERFECT = perfect_take(LINE, GRID)
CLEAN = [Verdict.CLEAN] * 8


def words(judgement: Judgement) -> list[Verdict]:
    return [verdict.verdict for verdict in judgement.verdicts]


def changed(index: int, **changes: object) -> list[PlayedNote]:
    """A perfect take but for one note."""
    return [replace(note, **changes) if at == index else note for at, note in enumerate(PERFECT)]


def with_one(index: int, verdict: Verdict) -> list[Verdict]:
    return [verdict if at == index else Verdict.CLEAN for at in range(8)]


def test_a_perfect_take_is_clean_throughout() -> None:
    judgement = judge_timed(LINE, PERFECT, GRID)
    assert words(judgement) == CLEAN
    assert judgement.extra == judgement.events == ()
    assert summary_of(judgement, LINE).kept_going


@pytest.mark.parametrize("index", range(8))
def test_one_dropped_note_is_missed_and_its_neighbours_are_clean(index: int) -> None:
    judgement = judge_timed(LINE, [*PERFECT[:index], *PERFECT[index + 1 :]], GRID)
    assert words(judgement) == with_one(index, Verdict.MISSED)
    assert judgement.events == judgement.extra == ()


@pytest.mark.parametrize("index", range(8))
def test_one_wrong_note_is_wrong_and_its_neighbours_are_clean(index: int) -> None:
    wrong = changed(index, sounding=LINE[index].sounding + 1, place=Place(1, 20))
    assert words(judge_timed(LINE, wrong, GRID)) == with_one(index, Verdict.WRONG_PITCH)


@pytest.mark.parametrize("after", [0, 3, 7])
def test_one_added_note_is_extra_and_its_neighbours_are_clean(after: int) -> None:
    added = played_note(70, PERFECT[after].started_s + 0.23)
    judgement = judge_timed(LINE, [*PERFECT[: after + 1], added, *PERFECT[after + 1 :]], GRID)
    assert words(judgement) == CLEAN
    assert judgement.extra == (added,)


def test_a_repeated_note_is_extra() -> None:
    again = replace(PERFECT[2], started_s=PERFECT[2].started_s + 0.12)
    judgement = judge_timed(LINE, [*PERFECT[:3], again, *PERFECT[3:]], GRID)
    assert words(judgement) == CLEAN
    assert judgement.extra == (again,)


@pytest.mark.parametrize(
    ("by_ms", "verdict"),
    [
        (-200, Verdict.EARLY),
        (-126, Verdict.EARLY),
        (-125, Verdict.CLEAN),
        (125, Verdict.CLEAN),
        (126, Verdict.LATE),
        (240, Verdict.LATE),
    ],
)
def test_a_note_out_of_its_tolerance_is_early_or_late_by_its_signed_offset(by_ms: int, verdict: Verdict) -> None:
    judgement = judge_timed(LINE, changed(4, started_s=PERFECT[4].started_s + by_ms / 1000), GRID)
    assert words(judgement) == with_one(4, verdict)
    assert judgement.verdicts[4].offset_ms == pytest.approx(by_ms)


def test_each_verdict_carries_the_time_since_the_answer_before() -> None:
    judgement = judge_timed(LINE, changed(4, started_s=PERFECT[4].started_s + 0.1), GRID)
    found = [verdict.time_to_find_ms for verdict in judgement.verdicts]
    assert found[0] is None
    assert found[3:6] == pytest.approx([500, 600, 400])


def test_a_right_pitch_elsewhere_is_another_place_even_when_it_is_late() -> None:
    elsewhere = changed(4, place=Place(4, 17), started_s=PERFECT[4].started_s + 0.2)
    assert words(judge_timed(LINE, elsewhere, GRID)) == with_one(4, Verdict.OTHER_PLACE)


def test_an_instrument_without_strings_is_not_judged_by_place() -> None:
    assert words(judge_timed(LINE, [replace(note, place=None) for note in PERFECT], GRID)) == CLEAN


def test_a_note_without_a_home_is_taken_in_any_place() -> None:
    homeless = tuple(replace(note, home=None) for note in LINE)
    assert words(judge_timed(homeless, changed(4, place=Place(4, 17)), GRID)) == CLEAN


def test_a_helped_note_is_hinted_unless_something_worse_is_true() -> None:
    rules = TimedRules(hinted=frozenset({5, 6}))
    late = changed(4, started_s=PERFECT[4].started_s + 0.2)
    late[5] = replace(late[5], sounding=70)
    judgement = judge_timed(LINE, late, GRID, rules)
    assert words(judgement)[4:6] == [Verdict.HINTED, Verdict.WRONG_PITCH]


def test_a_wrong_octave_is_told_apart() -> None:
    verdict = judge_timed(LINE, changed(3, sounding=77, place=None), GRID).verdicts[3]
    assert (verdict.verdict, verdict.octave_off, verdict.cause) == (Verdict.WRONG_PITCH, True, Cause.OCTAVE)


def test_in_the_stage_rhythm_any_one_pitch_will_do() -> None:
    drummed = [replace(note, sounding=55, place=Place(4, 5)) for note in changed(4, started_s=2.2)]
    judgement = judge_timed(LINE, drummed, GRID, TimedRules(pitch_counts=False))
    assert words(judgement) == with_one(4, Verdict.LATE)


def test_the_players_lean_is_reported_and_not_taken_out() -> None:
    judgement = judge_timed(LINE, moved(PERFECT, -0.06), GRID)
    summary = summary_of(judgement, LINE)
    assert summary.bias_ms == pytest.approx(-60)
    assert summary.spread_ms == pytest.approx(0, abs=1e-6)


def test_who_is_always_late_is_late_and_not_in_another_time() -> None:
    judgement = judge_timed(LINE, moved(PERFECT, 0.3), GRID)
    assert words(judgement) == [Verdict.LATE] * 8
    assert judgement.events == ()


def test_notes_after_the_player_stopped_are_unread() -> None:
    judgement = judge_timed(LINE, PERFECT[:3], GRID)
    assert words(judgement) == [Verdict.CLEAN] * 3 + [Verdict.UNREAD] * 5
    assert not summary_of(judgement, LINE).kept_going


def test_the_end_of_the_take_divides_missed_from_unread() -> None:
    judgement = judge_timed(LINE, PERFECT[:3], GRID, TimedRules(ended_s=2.6))
    assert words(judgement)[3:] == [Verdict.MISSED] * 3 + [Verdict.UNREAD] * 2


def test_a_take_without_a_note_is_unread() -> None:
    assert words(judge_timed(LINE, [], GRID)) == [Verdict.UNREAD] * 8


def test_without_written_notes_everything_played_is_extra() -> None:
    empty = timed_grid([], tempo_bpm=120)
    assert judge_timed([], PERFECT[:2], empty) == Judgement(verdicts=(), extra=tuple(PERFECT[:2]))


def test_notes_faster_than_any_tolerance_are_still_told_apart_by_their_order() -> None:
    """Two written notes 60 ms apart, as in a run of 128ths: order decides."""
    line = expected_line([60, 62, 64], [Fraction(1, 8)] * 3)
    grid = timed_grid([note.note for note in line], tempo_bpm=125)
    assert words(judge_timed(line, perfect_take(line, grid), grid)) == [Verdict.CLEAN] * 3


def made(seed: int, tempo_bpm: float, errors: Errors) -> tuple[tuple[ExpectedNote, ...], TimedGrid, object]:
    rng = Random(seed)
    line = random_line(100, rng)
    grid = timed_grid([note.note for note in line], tempo_bpm=tempo_bpm)
    return line, grid, made_take(line, grid, errors, rng)


@pytest.mark.parametrize("tempo_bpm", [60, 120, 238])
@pytest.mark.parametrize("bias_s", [-0.06, 0.0, 0.06])
def test_at_least_99_of_100_verdicts_are_as_made_where_notes_are_125_ms_apart(tempo_bpm: float, bias_s: float) -> None:
    """The bench prints more of this; the shortest gap here is 126 ms, at 238 quarter notes a minute."""
    right = count = 0
    for seed in range(20):
        line, grid, take = made(seed, tempo_bpm, Errors(bias_s=bias_s, spread_s=0.04))
        judgement = judge_timed(line, take.played, grid)
        for index, note in enumerate(line):
            count += 1
            right += judgement.verdicts[index].verdict is verdict_as_made(note, take.answers[index], index, grid)
    assert right / count >= 0.99


@given(st.integers(0, 10**6), st.floats(-0.5, 0.5))
def test_moving_the_clock_and_the_whole_take_together_changes_nothing(seed: int, by_s: float) -> None:
    line, grid, take = made(seed, 120, Errors(spread_s=0.03))
    there = replace(grid, onsets_s=tuple(onset_s + by_s for onset_s in grid.onsets_s))
    here, moved_there = judge_timed(line, take.played, grid), judge_timed(line, moved(take.played, by_s), there)
    assert words(here) == words(moved_there)
    assert [event.kind for event in here.events] == [event.kind for event in moved_there.events]


@given(st.integers(0, 10**6), st.floats(-0.05, 0.05))
def test_moving_the_whole_take_against_the_click_changes_offsets_only(seed: int, by_s: float) -> None:
    """As long as every note stays in its tolerance, and no one is near the edge of an arrival."""
    line, grid, take = made(seed, 100, Errors(spread_s=0.008))
    played = [replace(note, place=None) for note in take.played]
    here, there = judge_timed(line, played, grid), judge_timed(line, moved(played, by_s), grid)
    assert words(here) == words(there)
    for before, after in zip(here.verdicts, there.verdicts, strict=True):
        if before.offset_ms is not None and after.offset_ms is not None:
            assert after.offset_ms - before.offset_ms == pytest.approx(by_s * 1000, abs=1e-6)
