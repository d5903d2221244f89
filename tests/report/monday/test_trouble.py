"""Why a passage does not get on is told from its last takes: each cause that was planted comes out as itself."""

from datetime import date

import pytest

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.monday_queries import LatelyPlayed, NoteAmiss, StuckPassage
from game.practice_log.classes.need import PassageTake
from game.report.monday.trouble import Trouble, why_stuck

BARS = LatelyPlayed(title="Ode to Joy", first="1", last="4")
WRONG = Verdict.WRONG_PITCH


def amiss(written, times, verdict=WRONG, cause=None):
    return NoteAmiss(written=written, string=1, fret=1, verdict=verdict, cause=cause, times=times)


def take(bpm=None, *, clean=False):
    return PassageTake(
        day=date(2026, 11, 1), stage="time", tempo_bpm=bpm, notes=16, clean=12, in_time=12, is_clean=clean
    )


TEN_TAKES = (take(),) * 10


def why(notes=(), takes=TEN_TAKES, clean_bpm=None):
    return why_stuck(
        StuckPassage(bars=BARS, takes=tuple(takes), amiss=tuple(notes), clean_bpm=clean_bpm, target_bpm=88)
    )


@pytest.mark.parametrize("cause", Cause, ids=lambda cause: cause.value)
def test_a_cause_that_most_wrong_notes_have_is_named_with_those_notes_alone(cause):
    other = next(one for one in Cause if one not in (cause, Cause.UNKNOWN))
    told = why([amiss("B4", 6, cause=cause), amiss("A5", 9, cause=cause), amiss("C4", 2, cause=other)])
    if cause is Cause.UNKNOWN:
        # What can be told counts before what cannot.
        assert told.trouble is Trouble(other.value)
        assert why([amiss("B4", 6, cause=cause)]).trouble is Trouble.UNKNOWN
    else:
        assert (told.trouble, told.notes) == (Trouble(cause.value), ("A5", "B4"))


def test_wrong_notes_of_all_kinds_have_no_cause():
    causes = [one for one in Cause if one is not Cause.UNKNOWN]
    told = why([amiss(f"{letter}4", 3, cause=cause) for letter, cause in zip("CDEFGAB", causes, strict=True)])
    assert told.trouble is Trouble.UNKNOWN


def test_right_notes_beside_the_beat_are_a_matter_of_time_though_some_are_wrong():
    told = why([amiss("F4", 9, Verdict.EARLY), amiss("G4", 9, Verdict.LATE), amiss("C4", 3, cause=Cause.SLIP)])
    assert (told.trouble, told.notes) == (Trouble.TIMING, ("F4", "G4"))
    assert why([amiss("F4", 3, Verdict.EARLY), amiss("C4", 5, cause=Cause.SLIP)]).trouble is Trouble.SLIP


@pytest.mark.parametrize(
    ("verdict", "trouble"), [(Verdict.OTHER_PLACE, Trouble.ELSEWHERE), (Verdict.MISSED, Trouble.MISSED)]
)
def test_right_notes_elsewhere_and_notes_left_out_are_told_as_that(verdict, trouble):
    assert why([amiss("F4", 9, verdict), amiss("C4", 3, cause=Cause.SLIP)]).trouble is trouble


def test_clean_below_a_tempo_and_not_above_it_is_the_tempo_whatever_goes_wrong_there():
    takes = [take(60.0, clean=True)] * 4 + [take(72.0)] * 6
    told = why([amiss("F4", 9, cause=Cause.SLIP)], takes, clean_bpm=62.0)
    assert (told.trouble, told.clean_bpm, told.last_bpm, told.target_bpm) == (Trouble.TEMPO, 62.0, 72.0, 88)
    lucky = [take(60.0, clean=True)] * 3 + [take(72.0)] * 6 + [take(72.0, clean=True)]
    assert why([amiss("F4", 9, cause=Cause.SLIP)], lucky).trouble is Trouble.TEMPO


def test_what_goes_wrong_at_slow_tempi_too_is_not_the_tempo():
    takes = [take(60.0, clean=True)] * 3 + [take(60.0)] * 7
    assert why([amiss("A5", 9, cause=Cause.LEDGER)], takes).trouble is Trouble.LEDGER


def test_clean_take_after_clean_take_at_one_tempo_is_told_apart():
    assert why((), [take(60.0, clean=True)] * 10).trouble is Trouble.SAME_TEMPO


def test_nothing_that_can_be_told_is_unknown_and_has_no_tempo():
    told = why()
    assert (told.trouble, told.notes, told.last_bpm, told.clean_bpm) == (Trouble.UNKNOWN, (), None, None)
