"""Slides, hammer-ons, ornaments and graces belong to the note they lead to."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import timed_grid
from game.judging.verdicts import Verdict
from game.neck.tuning import STANDARD, Place
from tests.judging.made_takes import expected_line, perfect_take

LINE = expected_line([60, 62, 64, 65, 67, 65], [Fraction(1)] * 6)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=120)
PERFECT = perfect_take(LINE, GRID)
AT_S = PERFECT[3].started_s
HOME = PERFECT[3].place
assert HOME is not None


def on_string(string: int, sounding: int, started_s: float):
    place = Place(string, sounding - STANDARD.open_strings[string - 1])
    return replace(PERFECT[3], sounding=sounding, place=place, started_s=started_s)


def take_with(*notes):
    return sorted([*PERFECT[:3], *notes, *PERFECT[4:]], key=lambda note: note.started_s)


@pytest.mark.parametrize(
    ("pluck_s", "arrival_s", "verdict", "offset_ms"),
    [
        (0.0, 0.18, Verdict.CLEAN, 0),  # the pluck is in time
        (-0.18, 0.0, Verdict.CLEAN, 0),  # the arrival is
        (0.13, 0.25, Verdict.LATE, 250),  # neither is
        (0.0, 0.1, Verdict.CLEAN, 100),  # both are: the note is where its pitch is reached
    ],
)
@pytest.mark.parametrize("from_sounding", [63, 64, 66, 69])
def test_a_pitch_reached_on_its_string_in_200_ms_is_right_and_in_time_if_pluck_or_arrival_is(
    pluck_s: float, arrival_s: float, verdict: Verdict, offset_ms: float, from_sounding: int
) -> None:
    slide = (on_string(HOME.string, from_sounding, AT_S + pluck_s), on_string(HOME.string, 65, AT_S + arrival_s))
    judgement = judge_timed(LINE, take_with(*slide), GRID)
    assert judgement.verdicts[3].verdict is verdict
    assert judgement.verdicts[3].offset_ms == pytest.approx(offset_ms)
    assert judgement.extra == judgement.events == ()


def test_an_arrival_after_more_than_200_ms_repairs_a_wrong_note() -> None:
    slide = (on_string(HOME.string, 64, AT_S), on_string(HOME.string, 65, AT_S + 0.22))
    judgement = judge_timed(LINE, take_with(*slide), GRID)
    assert judgement.verdicts[3].verdict is Verdict.WRONG_PITCH
    assert [(event.kind.value, event.n) for event in judgement.events] == [("repair", 4)]


def test_a_neighbour_on_another_string_is_no_ornament() -> None:
    other = on_string(HOME.string + 1, 64, AT_S - 0.1)
    judgement = judge_timed(LINE, take_with(other, PERFECT[3]), GRID)
    assert judgement.verdicts[3].verdict is Verdict.CLEAN
    assert judgement.extra == (other,)


def test_a_turn_before_the_note_is_one_ornament() -> None:
    turn = [on_string(HOME.string, 67, AT_S - 0.16), on_string(HOME.string, 64, AT_S - 0.08)]
    judgement = judge_timed(LINE, take_with(*turn, PERFECT[3]), GRID)
    assert {verdict.verdict for verdict in judgement.verdicts} == {Verdict.CLEAN}
    assert judgement.extra == ()


@pytest.mark.parametrize("played", [True, False])
def test_a_written_grace_is_neither_missed_nor_extra(played: bool) -> None:
    grace = [on_string(HOME.string + 1, 69, AT_S - 0.15)] if played else []
    rules = TimedRules(graces={4: (69,)})
    judgement = judge_timed(LINE, take_with(*grace, PERFECT[3]), GRID, rules)
    assert {verdict.verdict for verdict in judgement.verdicts} == {Verdict.CLEAN}
    assert judgement.extra == ()
