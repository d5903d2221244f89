import pytest

from game.instrument.listening.semitones import hertz, period_of, pitch_of


@pytest.mark.parametrize(("pitch", "frequency"), [(69, 440.0), (40, 82.407), (64, 329.628)])
def test_pitches_have_the_frequencies_of_equal_temperament(pitch, frequency):
    """ISO 16; E2 and E4 as in any table of notes (trade)."""
    assert hertz(pitch) == pytest.approx(frequency, abs=0.001)


def test_a_pitch_and_its_period_are_opposites():
    assert [pitch_of(period_of(pitch, 48_000), 48_000) for pitch in (40.0, 55.3, 88.0)] == pytest.approx(
        [40.0, 55.3, 88.0]
    )
