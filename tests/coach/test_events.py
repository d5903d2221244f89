"""What the coach hears of."""

from fractions import Fraction

import pytest

from game.coach.events import PassageFacts, facts_of
from game.coach.stages import Stage
from tests.coach.coach_takes import PASSAGE, take


def test_density_and_usual_length_are_in_the_metres_own_beat():
    """Six eighths in 6/8 are three to each dotted quarter (trade)."""
    facts = facts_of("jig", lengths=(Fraction(1, 2),) * 6, beat_length=Fraction(3, 2))
    assert (facts.notes_per_beat, facts.usual_note_beats) == pytest.approx((3, 1 / 3))


def test_a_passage_without_notes_is_refused_with_a_sentence():
    with pytest.raises(ValueError, match=r"'empty' has no notes: choose other bars"):
        facts_of("empty", lengths=(), beat_length=Fraction(1))
    with pytest.raises(ValueError, match="has no notes"):
        PassageFacts(name="none", notes_per_beat=0)


def test_a_target_of_nought_is_refused():
    with pytest.raises(ValueError, match="target tempo of 0"):
        PassageFacts(name="p", target_bpm=0)


def test_counts_that_contradict_each_other_are_refused():
    with pytest.raises(ValueError, match="do not add up"):
        take(-1)
    with pytest.raises(ValueError, match="do not add up"):
        take(2, off_time=31)
    with pytest.raises(ValueError, match="at 0 beats a minute"):
        take(bpm=0, stage=Stage.TIME, passage=PASSAGE)


def test_a_right_note_in_another_place_counts_as_right_but_not_as_clean():
    strayed = take(1, other_place_notes=frozenset({1}))
    assert (strayed.right, strayed.clean) == (32, 31)
