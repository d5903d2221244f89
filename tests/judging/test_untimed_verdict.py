"""One written note and what was played for it, without the clock."""

import pytest

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.untimed_verdict import untimed_verdict, verdict_of
from game.judging.verdicts import Cause, Verdict
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.made import passage

G, HIGH_E = expected_notes(passage("G4 h, E6 h").notes, standard_map())
HOME = Place(4, 5)


def note(sounding=55, place=HOME, at_s=1.0):
    return PlayedNote(started_s=at_s, sounding=sounding, place=place)


def judged(*answers, asked_s=0.0, hinted=False):
    return untimed_verdict(G, answers, asked_s=asked_s, hinted=hinted)


@pytest.mark.parametrize(
    ("played", "hinted", "verdict"),
    [
        (note(), False, Verdict.CLEAN),
        (note(), True, Verdict.HINTED),
        (note(place=Place(5, 10)), True, Verdict.OTHER_PLACE),
        (note(place=None), False, Verdict.CLEAN),
        (note(sounding=57, place=Place(4, 7)), True, Verdict.WRONG_PITCH),
    ],
)
def test_pitch_first_then_place_then_help(played, hinted, verdict):
    assert verdict_of(G, played, hinted=hinted) is verdict


def test_without_a_home_any_place_will_do():
    assert HIGH_E.home is None
    assert verdict_of(HIGH_E, note(sounding=76, place=Place(1, 12)), hinted=False) is Verdict.CLEAN


def test_the_first_answer_decides_and_the_tries_are_kept():
    tries = (note(sounding=57, place=None), note(sounding=56, place=None, at_s=2.0), note(at_s=3.5))
    told = judged(*tries)
    assert (told.verdict, told.cause, told.answers) == (Verdict.WRONG_PITCH, Cause.NEIGHBOUR, tries)
    assert told.time_to_find_ms == 3500


def test_what_never_came_has_no_time_nor_has_what_nobody_asked():
    assert judged(note(sounding=57)).time_to_find_ms is None
    assert judged(note(), asked_s=None).time_to_find_ms is None


def test_notes_on_the_way_on_its_string_are_no_answers():
    """A slide of three frets, each within 200 ms of the next."""
    slide = [note(52 + step, Place(4, 2 + step), at_s=1.0 + 0.15 * step) for step in range(4)]
    told = judged(*slide)
    assert (told.verdict, told.answers) == (Verdict.CLEAN, (slide[-1],))


@pytest.mark.parametrize("other", [note(54, Place(4, 4), 0.7), note(54, Place(5, 9), 0.9), note(54, None, 0.9)])
def test_a_slower_one_or_one_on_another_string_is(other):
    assert judged(other, note()).verdict is Verdict.WRONG_PITCH
