"""A clean take of a whole tune is one of each of its pages, and a first sighting only where it was one of the whole."""

import pytest

from game.coach.played_whole import PageOfWhole
from game.coach.stages import Stage
from game.judging.verdicts import EventKind, Verdict
from tests.coach.whole_takes import WHOLE, played


def test_each_page_has_its_own_notes():
    _, (first, _) = played(n3=Verdict.LATE)
    _, (_, second) = played(n14=Verdict.WRONG_PITCH)
    assert (first.result.passage.name, first.result.passage.target_bpm) == ("a", 60)
    assert (first.result.homes, first.result.clean, first.result.off_time) == (10, 10, 1)
    assert (second.result.homes, second.result.clean, second.result.wrong_notes) == (9, 8, {4})
    assert (second.result.day, second.result.tempo_bpm, second.result.minute) == (5, 60.0, 600)


@pytest.mark.parametrize(
    "take",
    [
        played(events=(EventKind.STOP,)),
        played(n1=Verdict.MISSED, n2=Verdict.MISSED, n3=Verdict.MISSED),
        played(n1=Verdict.LATE, n2=Verdict.EARLY, n3=Verdict.LATE),
        played(n19=Verdict.UNREAD),
        played(stage=Stage.RHYTHM),
        played(stage=Stage.LETTERS, bpm=None),
    ],
)
def test_a_take_that_was_not_clean_or_asked_no_pitches_counts_for_none(take):
    assert take[1] == ()


def test_a_page_has_notes():
    with pytest.raises(ValueError, match="no page has the notes"):
        PageOfWhole(facts=WHOLE, first=4, last=3)
