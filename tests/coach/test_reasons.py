"""The coach's sentences."""

import pytest
from coach_takes import take

from game.coach.reasons import BEGIN, begun, counted, report, tempo_said
from game.coach.stages import Pulse, Stage
from game.coach.tempo.next_tempo import NextTempo, Why


@pytest.mark.parametrize(
    ("right", "asked", "said"),
    [
        (11, 12, "Eleven of twelve"),
        (12, 12, "All twelve"),
        (30, 32, "30 of 32"),
        (0, 8, "None of eight"),
        (1, 1, "The one note"),
    ],
)
def test_small_numbers_are_said_in_words(right, asked, said):
    assert counted(right, asked) == said


def test_what_was_played_is_said_with_its_tempo():
    assert report(take(1, notes=12, bpm=72)) == "Eleven of twelve at 72, without a stop."
    assert report(take(1, notes=12, bpm=72, stops=1)) == "Eleven of twelve at 72."
    assert report(take(notes=12, stage=Stage.RHYTHM, bpm=60, off_time=2)) == "Ten of twelve in time at 60."


@pytest.mark.parametrize("why", list(Why))
@pytest.mark.parametrize("bpm", [64, 72, 80])
def test_every_next_tempo_is_said_and_says_its_figure(why, bpm):
    said = tempo_said(NextTempo(bpm=bpm, why=why), 72)
    assert str(bpm) in said
    assert said.endswith(".")
    assert len(said) < 80


def test_a_rise_and_a_rest_are_told_apart():
    assert tempo_said(NextTempo(bpm=76, why=Why.HELD), 72) == "Now 76."
    assert tempo_said(NextTempo(bpm=72, why=Why.HELD), 72) == "Again at 72."


def test_every_stage_and_pulse_that_can_be_asked_has_its_sentence():
    untimed = {(Stage.LETTERS, Pulse.METRONOME), (Stage.PLACES, Pulse.METRONOME)}
    assert set(BEGIN) == {(stage, pulse) for stage in Stage for pulse in Pulse} - untimed
    assert begun(Stage.TIME, Pulse.METRONOME, 60) == "Now with the metronome, at 60."
