"""How loud a sound is to an ear, by the curve A."""

import numpy as np
import numpy.typing as npt


def ear_energy_db(samples: npt.NDArray[np.float64], rate: int) -> float:
    """The energy of a whole sound, weighted by the curve A of IEC 61672-1 (its closed form)."""
    size = 1 << 15
    power = np.abs(np.fft.rfft(samples, size)) ** 2
    hz = np.fft.rfftfreq(size, 1 / rate)
    squared = hz**2
    weight = 12194.0**2 * squared**2
    weight /= (squared + 20.6**2) * np.sqrt((squared + 107.7**2) * (squared + 737.9**2)) * (squared + 12194.0**2)
    return float(10 * np.log10((power * (1.2589 * weight) ** 2).sum() / size))
