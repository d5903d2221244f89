"""Readiness for the metronome, and the first tempo."""

import pytest

from game.coach.events import PassageFacts
from game.coach.tempo.readiness import Readiness, first_tempo, readiness_of, surely_right

QUARTERS = PassageFacts(name="quarters")
EIGHTHS = PassageFacts(name="eighths", notes_per_beat=2, usual_note_beats=0.5)


@pytest.mark.parametrize(("wrong", "asked", "sure"), [(1, 16, True), (2, 16, False), (3, 32, True), (4, 32, False)])
def test_one_wrong_in_16_or_three_in_32_is_sure_enough(wrong, asked, sure):
    assert surely_right(asked - wrong, asked) is sure


def test_a_few_right_notes_are_not_sure_enough():
    assert not surely_right(3, 3)


def test_the_first_tempo_is_the_one_at_which_four_of_five_notes_were_found_in_time():
    assert first_tempo((0.5, 0.5, 0.5, 1.0, 9.0), QUARTERS) == 60
    assert first_tempo((0.5, 0.5, 0.5, 0.5, 9.0), EIGHTHS) == 60


def test_the_first_tempo_does_not_pass_the_target():
    assert first_tempo((0.3,) * 5, PassageFacts(name="p", target_bpm=88)) == 88


def test_sure_and_quick_is_ready():
    at = readiness_of(sure=True, find_times_s=(1.2,) * 10, passage=QUARTERS)
    assert (at.readiness, at.first_bpm) == (Readiness.READY, 50)


def test_sure_but_slower_than_50_stays_without_a_clock():
    at = readiness_of(sure=True, find_times_s=(1.3,) * 10, passage=QUARTERS)
    assert (at.readiness, at.first_bpm) == (Readiness.SLOW, 46)


def test_quick_but_unsure_is_not_ready():
    assert readiness_of(sure=False, find_times_s=(0.3,) * 10, passage=QUARTERS).readiness is Readiness.UNSURE


def test_without_finding_times_the_metronome_begins_at_its_lowest_tempo():
    at = readiness_of(sure=True, find_times_s=(), passage=QUARTERS)
    assert (at.readiness, at.first_bpm) == (Readiness.READY, 50)
