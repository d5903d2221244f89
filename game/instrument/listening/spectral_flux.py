"""When a string may have been plucked: the sound's spectrum rises in many bands at once.

Logarithmic spectral flux over bands, as S. Böck, F. Krebs, M. Schedl, "Evaluating the online capabilities of onset
detection methods", ISMIR 2012, with neighbouring bands compared as in their SuperFlux (2013) against vibrato.
"""

import numpy as np
from numpy.typing import NDArray

from game.instrument.listening.background import Background
from game.instrument.listening.sample_history import Samples

FRAME_S = 0.0232
"""How long the window of a spectrum is."""
_LOWEST_HZ, _LINEAR_TO_HZ, _HIGHEST_HZ, _WIDER = 215.0, 1290.0, 9000.0, 1.09
_LEAST_RISE = 0.17
_MEDIANS = 1.2
"""A rise over so many medians of the last ones, and the least one, is a pluck's."""
_MEDIAN_S = 0.232
_ASIDE = 0.15
"""A band that moves to its neighbour has not risen: so much quieter it may have been there (decades)."""
_FLOORS = 6.0
_LEAST_LEVEL = 1e-3


class SpectralFlux:
    """The rise of the spectrum, step by step. Changed by `hear`."""

    def __init__(self, rate: float, step: int) -> None:
        self.frame = 64 * round(FRAME_S * rate / 64)  # quick to transform
        self._window = np.hanning(self.frame + 1)[: self.frame]
        self._scale = 1024 / self.frame
        self._edges = _band_edges(rate, self.frame)
        self._logs = np.zeros((4, len(self._edges)))
        count = round(_MEDIAN_S * rate / step)
        self._rises = np.zeros(count)
        self._floor = Background(rate / step)

    def hear(self, frame: Samples) -> bool:
        """Whether the step before this one was the top of a rise as a pluck makes it."""
        log = self._log_bands(frame)
        before = np.maximum(self._logs[-3], self._logs[-2])
        wide = before.copy()
        wide[1:] = np.maximum(wide[1:], before[:-1] - _ASIDE)
        wide[:-1] = np.maximum(wide[:-1], before[1:] - _ASIDE)
        rise = float(np.maximum(0.0, log - wide).sum()) * 3 / len(log)
        self._logs[:-1] = self._logs[1:]
        self._logs[-1] = log
        bar = _LEAST_RISE + _MEDIANS * _middle(self._rises)
        self._rises[:-1] = self._rises[1:]
        self._rises[-1] = rise
        earlier, top = self._rises[-3], self._rises[-2]
        return bool(top >= rise and top >= earlier and top > bar)

    def _log_bands(self, frame: Samples) -> Samples:
        spectrum = np.fft.rfft(frame * self._window)
        power = (spectrum.real**2 + spectrum.imag**2)[: self._edges[-1] + 8]
        bands = np.sqrt(np.add.reduceat(power, self._edges)) * self._scale
        floor = self._floor.hear(_middle(bands))
        log: Samples = np.log10(bands + _FLOORS * floor + _LEAST_LEVEL)
        return log


def _band_edges(rate: float, frame: int) -> NDArray[np.intp]:
    """The lowest bin of each band: one apiece where notes lie, then ever more."""
    linear = np.arange(_LOWEST_HZ, _LINEAR_TO_HZ, rate / frame)
    wider = _LINEAR_TO_HZ * _WIDER ** np.arange(24)
    bins = np.unique(np.round(np.concatenate((linear, wider)) * frame / rate).astype(np.intp))
    return bins[bins < min(_HIGHEST_HZ, 0.45 * rate) * frame / rate]


def _middle(values: Samples) -> float:
    """The median, or the upper of the middle two: a quarter of the time that the library's takes."""
    return float(np.partition(values, len(values) // 2)[len(values) // 2])
