"""Our own click, taken out of what a microphone hears, before anything listens to it.

All clicks of the game that a microphone may hear lie in one narrow band, above every note (`game.audio.bright_clicks`).
So the band is taken out, whenever they come: by a band-stop filter. Nobody need tell it when a click is due, how loud
it leaks, how a loudspeaker colours it, how long a room gives it back or how fast the clock of a sound card runs. Of a
string it takes some of the partials; the pitch, and the stroke above and below the band, are left. Nothing is delayed
by it.

The filter is Butterworth's, of third order, by the bilinear transform (any handbook of digital filters). It is applied
as its own impulse response, which is over within some milliseconds, so that blocks of any length can be given.
"""

import numpy as np
from numpy.typing import NDArray

BAND_HZ = (1430.0, 2720.0)
"""Where 3 dB are taken out; of the clicks, 1,900 and 2,090 Hz and soon over, a seventieth is left at most."""

_ORDER = 3
_RESPONSE_S = 0.02
_LEFT_OUT = 1e-5
"""The impulse response ends where no more than this of it follows: 100 dB."""
_FFT_STEP = 128
"""Transforms are as long as a multiple of it: those are quick."""


class KnownSound:
    """A stream at `rate` samples a second that our clicks are taken out of, block by block. How it is cut makes no
    difference.
    """

    def __init__(self, rate: int) -> None:
        self._response = _impulse_response(rate)
        self._before = np.zeros(len(self._response) - 1)
        self._spectra: dict[int, NDArray[np.complex128]] = {}

    def take_out(self, samples: NDArray[np.float32]) -> NDArray[np.float32]:
        """The next samples of one channel without the band, as many as were given. What is no number is silence."""
        sound = np.nan_to_num(np.asarray(samples, dtype=np.float64), nan=0.0, posinf=1.0, neginf=-1.0)
        joined = np.concatenate((self._before, sound))
        self._before = joined[len(sound) :]
        size = -(-len(joined) // _FFT_STEP) * _FFT_STEP
        filtered = np.fft.irfft(np.fft.rfft(joined, size) * self._spectrum(size), size)
        return filtered[len(self._response) - 1 : len(joined)].astype(np.float32)

    def _spectrum(self, size: int) -> NDArray[np.complex128]:
        """Of the impulse response, for a transform of this size; of the last few sizes, as blocks have few lengths."""
        if size not in self._spectra:
            if len(self._spectra) > 8:
                self._spectra.clear()
            self._spectra[size] = np.fft.rfft(self._response, size)
        return self._spectra[size]


def _impulse_response(rate: int) -> NDArray[np.float64]:
    size = 1 << int(2 * _RESPONSE_S * rate).bit_length()
    low, high = (np.tan(np.pi * hz / rate) for hz in BAND_HZ)
    at = np.tan(np.pi * np.arange(size // 2) / size)
    # The low-pass of Butterworth, at the place where each frequency of the band-stop comes to lie: the middle of the
    # band at infinity.
    with np.errstate(divide="ignore"):
        place = 1j * (high - low) * at / (low * high - at**2)
    poles = np.exp(1j * np.pi * (2 * np.arange(_ORDER) + _ORDER + 1) / (2 * _ORDER))
    heights = np.prod(-poles / (place[:, None] - poles), axis=1)
    heights[~np.isfinite(heights)] = 0
    response = np.fft.irfft(np.append(heights, 1.0), size)
    left = np.sqrt(np.cumsum(response[::-1] ** 2))[::-1]
    return response[: int(np.flatnonzero(left > _LEFT_OUT * left[0]).max()) + 1]
