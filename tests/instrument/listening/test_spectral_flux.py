import numpy as np

from game.instrument.listening.spectral_flux import SpectralFlux
from tests.instrument.listening.plucked import RATE, line


def plucks(sound):
    """The times, in seconds, at which a pluck was found."""
    flux = SpectralFlux(RATE, 256)
    ends = range(flux.frame, len(sound), 256)
    return [end / RATE for end in ends if flux.hear(sound[end - flux.frame : end])]


def test_each_pluck_is_found_within_three_hundredths_of_a_second():
    found = plucks(line([(0.3, 50), (0.6, 57), (0.9, 57), (1.2, 62)]))
    assert len(found) == 4
    assert all(0 < at_s - onset_s < 0.03 for at_s, onset_s in zip(found, (0.3, 0.6, 0.9, 1.2), strict=True))


def test_steady_noise_seldom_has_one():
    """A few a second at most; what was plucked must have a pitch besides."""
    assert len(plucks(0.02 * np.random.default_rng(1).standard_normal(2 * RATE))) < 6


def test_vibrato_has_none():
    at_s = np.arange(RATE) / RATE
    phase = 2 * np.pi * 330 * at_s + 330 * 0.02 / 5.5 * np.sin(2 * np.pi * 5.5 * at_s)
    sound = sum(np.sin(partial * phase) / partial for partial in range(1, 8))
    assert [at_s for at_s in plucks(0.1 * sound) if at_s > 0.1] == []
