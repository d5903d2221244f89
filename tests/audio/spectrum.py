"""The pitch of a sound, as an analyser reads it."""

import numpy as np
import numpy.typing as npt


def strongest_hz(samples: npt.NDArray[np.float64], rate: int) -> float:
    """The peak of the spectrum, a parabola through its three highest bins."""
    size = 1 << 18
    spectrum = np.log(np.abs(np.fft.rfft(samples, size)) + 1e-9)
    top = int(spectrum.argmax())
    left, middle, right = spectrum[top - 1 : top + 2]
    return (top + 0.5 * (left - right) / (left - 2 * middle + right)) * rate / size
