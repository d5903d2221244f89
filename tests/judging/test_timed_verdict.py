"""One answered note of a timed take put into a verdict."""

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.timed_verdict import DEFAULT_RULES, TimedRules, timed_verdict
from game.judging.verdicts import Cause, Verdict
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.made import passage

G = expected_notes(passage("G4 w").notes, standard_map())[0]
HOME = Place(4, 5)


def note(sounding=55, place=HOME, at_s=1.0):
    return PlayedNote(started_s=at_s, sounding=sounding, place=place)


def judged(*notes, offset_s=0.0, in_time=True, asked_s=0.5, rules=DEFAULT_RULES):
    return timed_verdict(G, notes, offset_s, in_time, asked_s, rules)


@pytest.mark.parametrize(
    ("played", "offset_s", "in_time", "verdict"),
    [
        (note(), -0.05, True, Verdict.CLEAN),
        (note(), -0.2, False, Verdict.EARLY),
        (note(), 0.2, False, Verdict.LATE),
        (note(place=Place(5, 10)), 0.2, False, Verdict.OTHER_PLACE),  # place before time
        (note(sounding=57), 0.2, False, Verdict.WRONG_PITCH),  # pitch before both
    ],
)
def test_pitch_comes_before_place_and_place_before_time(played, offset_s, in_time, verdict):
    told = judged(played, offset_s=offset_s, in_time=in_time)
    assert (told.n, told.verdict) == (1, verdict)
    assert told.offset_ms == pytest.approx(offset_s * 1000)


def test_the_time_to_find_runs_from_the_answer_before_to_the_right_pitch():
    assert judged(note()).time_to_find_ms == pytest.approx(500)
    assert judged(note(sounding=57), note(at_s=1.7)).time_to_find_ms == pytest.approx(1200)
    assert judged(note(sounding=57)).time_to_find_ms is None
    assert judged(note(), asked_s=None).time_to_find_ms is None


def test_a_wrong_pitch_has_its_cause():
    assert judged(note(sounding=57)).cause is Cause.NEIGHBOUR
    octave = judged(note(sounding=67))
    assert (octave.octave_off, octave.cause) == (True, Cause.OCTAVE)


def test_help_is_told_unless_the_pitch_was_wrong():
    rules = TimedRules(hinted=frozenset({1}))
    assert judged(note(), in_time=False, offset_s=0.3, rules=rules).verdict is Verdict.HINTED
    assert judged(note(sounding=57), rules=rules).verdict is Verdict.WRONG_PITCH


def test_where_only_the_rhythm_counts_pitch_and_place_are_not_judged():
    rules = TimedRules(pitch_counts=False)
    assert judged(note(sounding=40, place=Place(6, 0)), rules=rules).verdict is Verdict.CLEAN
    assert judged(note(sounding=40), offset_s=-0.3, in_time=False, rules=rules).verdict is Verdict.EARLY
