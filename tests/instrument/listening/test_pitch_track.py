import numpy as np
import pytest

from game.instrument.listening.difference_function import Estimate, estimate_of
from game.instrument.listening.pitch_track import PitchTrack
from tests.instrument.listening.plucked import RATE

STEP, WINDOW = 256, 700


def changes(pitches):
    """What a track makes of a tone whose pitch is given sample by sample."""
    phase = 2 * np.pi * np.cumsum(440 * 2 ** ((pitches - 69) / 12)) / RATE
    sound = sum(np.sin(partial * phase) / partial for partial in range(1, 6))
    track = PitchTrack(float(pitches[0]), RATE)
    told = [
        track.hear(end - WINDOW // 2, estimate_of(sound[end - WINDOW : end], RATE))
        for end in range(WINDOW, len(sound), STEP)
    ]
    return [change for change in told if change is not None]


def bent(semitones, took_s):
    """A quarter of a second of 60, then bent smoothly, then a quarter of a second more."""
    way = (1 - np.cos(np.linspace(0, np.pi, round(took_s * RATE)))) / 2
    still = np.ones(RATE // 4)
    return 60 + semitones * np.concatenate((0 * still, way, still))


@pytest.mark.parametrize("semitones", [-4, -2, -1, 1, 2, 4])
def test_a_jump_is_found_where_it_was(semitones):
    (change,) = changes(bent(semitones, 0.0))
    assert not change.is_bend
    assert change.pitch == pytest.approx(60 + semitones, abs=0.1)
    assert change.at / RATE == pytest.approx(0.25, abs=0.01)


@pytest.mark.parametrize(("semitones", "took_s"), [(1, 0.11), (2, 0.14), (1, 0.28), (2, 0.28)])
def test_a_bend_is_no_new_note(semitones, took_s):
    assert all(change.is_bend for change in changes(bent(semitones, took_s)))


def test_vibrato_changes_nothing():
    at_s = np.arange(RATE) / RATE
    assert changes(60 + 0.2 - 0.2 * np.cos(2 * np.pi * 5.5 * at_s)) == []


def test_what_is_unclear_is_passed_over():
    track = PitchTrack(60.0, RATE)
    assert [track.hear(at, Estimate(67.0, 0.5)) for at in range(0, 5000, STEP)] == [None] * 20


def test_one_note_that_fades_into_another_is_no_bend():
    """Between them nothing is clear."""
    track = PitchTrack(60.0, RATE)
    readings = [*[Estimate(60.0, 0.99)] * 10, *[Estimate(61.0, 0.6)] * 12, *[Estimate(62.0, 0.99)] * 4]
    told = [track.hear(number * STEP, reading) for number, reading in enumerate(readings)]
    (change,) = [change for change in told if change is not None]
    assert not change.is_bend


def test_it_is_steady_once_four_readings_agree():
    track = PitchTrack(60.0, RATE)
    for pitch in (59.9, 60.0, 60.05):
        track.hear(0, Estimate(pitch, 0.95))
    assert track.steady() is None
    track.hear(0, Estimate(60.01, 0.95))
    assert track.steady() == pytest.approx(60.005)
