"""What a take is asked whose rhythm counts, as the log has it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.coach.stages import Pulse, Stage
from game.music.meter import Meter
from game.neck.neck_map import standard_map
from game.practice.take_request import request_for
from game.screens.reading.timed_terms import timed_terms
from tests.made import score


def request(stage=Stage.TIME, meter=None, **changes):
    made = score("F4 q, G4 q, A4 h")
    if meter:
        made = replace(made, bars=(replace(made.bars[0], meter=meter),))
    return replace(request_for(made, standard_map(position=5)), stage=stage, **changes)


def test_without_a_tempo_the_pulse_is_the_players_own():
    terms = timed_terms(request())
    assert (terms.pulse, terms.tempo_bpm) == (Pulse.FREE, None)
    terms = timed_terms(request(tempo_bpm=72))
    assert (terms.pulse, terms.tempo_bpm) == (Pulse.METRONOME, 72)


@pytest.mark.parametrize(
    ("meter", "beat"), [(Meter(4, 4), Fraction(1)), (Meter(6, 8), Fraction(3, 2)), (Meter(2, 2), Fraction(2))]
)
def test_the_tempo_counts_the_metres_own_beat(meter, beat):
    """Of compound time the dotted one (trade)."""
    assert timed_terms(request(meter=meter)).beat_length == beat


@pytest.mark.parametrize(("stage", "counts"), [(Stage.RHYTHM, False), (Stage.TIME, True), (Stage.SIGHT, True)])
def test_pitch_counts_except_in_rhythm(stage, counts):
    assert timed_terms(request(stage)).pitch_counts is counts


def test_swing_settling_and_the_players_own_word_are_told_too():
    terms = timed_terms(request(tempo_bpm=72, settling=True), swing=1.6, self_marked=True)
    assert (terms.swing, terms.settling, terms.self_marked) == (1.6, True, True)
