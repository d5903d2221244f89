"""How late sound that we play is heard: irregular clicks are looked for in what was recorded meanwhile. Pure.

Each click is found by its shape (a matched filter, whose envelope does not mind a path that turns the sign or the
phase), all of them together by their spacing: only at the true delay do irregular clicks fall on what was heard, so
that half a second of a wireless loudspeaker is told from an echo, and neither noise nor a guitar passes for them.
What was measured is refused where the clicks do not agree.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

import numpy as np
import numpy.typing as npt

CLICKS: Final = 12
EARLIEST_S, LATEST_S = -0.03, 0.6
"""Between these a delay is looked for. Less than nothing is possible: what was counted for the output beforehand may be
more than it takes. Wireless loudspeakers take up to half a second (trade).
"""

WIDEST_SPREAD_S: Final = 0.003
"""Beyond it nothing is taken over: half the least displacement of a note that is noticed (Friberg & Sundberg 1995)."""

FEWEST_FOUND: Final = CLICKS // 2

_SWEEP_S, _SWEEP_HZ = 0.012, (1500.0, 9000.0)
# Spacings, each another, none near twice or half of another one that follows it, nor near a multiple of 1/50 s, which
# would let mains hum join in (ours).
_SPACINGS_S: Final = (0.31, 0.233, 0.387, 0.271, 0.349, 0.207, 0.409, 0.253, 0.331, 0.219, 0.367)
# What a click stands out against is what was heard within this reach to both sides of it.
_AROUND_S: Final = 0.08
# One that is louder than this many times its surroundings counts no more than that: no single bang decides.
_MOST_TIMES: Final = 12.0
# However still it is otherwise, what is this many times as soft as clicks mostly are is no louder than usual.
_CLEAREST: Final = 16.0
# Of these spans, in blocks of which an eighth is the reach above, more than half hold a click.
_SPACED_BLOCKS: Final = 20
# A click was found where it is this many times as loud as what is usual around it. Of noise the envelope of a filter
# is spread as Rayleigh has it: this is passed by chance at one place in some hundred thousand (mem).
_STANDS_OUT: Final = 4.5
# All together have to stand out that much more than where there is no click.
_TOGETHER: Final = 8.0
_REACH_S: Final = 0.012
# The way straight from the loudspeaker comes first, and an echo may be louder: what is at least half as loud and
# earlier within the reach is taken for the sound itself (ours).
_FIRST_SHARE: Final = 0.5

Samples = npt.NDArray[np.float32]
Shape = Callable[[int], Samples]
"""A sound at any sample rate: mono, -1 to 1."""

_Floats = npt.NDArray[np.float64]


class DelayRefusal(Enum):
    """Why a delay was not found. The values are names in the text catalogue."""

    NOT_HEARD = "not_heard"
    UNSTEADY = "unsteady"
    CUT_SHORT = "cut_short"


@dataclass(frozen=True, slots=True, kw_only=True)
class ClickDelay:
    """What came of measuring. `delay_s` is from when a click was due to when it was heard, None where that was refused
    for a reason; `spread_s` the width that holds the middle two thirds of the clicks, `found` how many of `played` were
    heard.
    """

    delay_s: float | None
    spread_s: float
    found: int
    played: int
    refused: DelayRefusal | None = None


def measuring_click(rate: int) -> Samples:
    """The sound that is looked for, at `rate` samples a second: a rising sweep of 12 ms, higher than what a guitar
    mostly has, and with an edge no sharper than a hearer likes.
    """
    at_s = np.arange(round(_SWEEP_S * rate)) / rate
    (low, high), length_s = _SWEEP_HZ, _SWEEP_S
    phase = 2 * np.pi * (low * at_s + (high - low) * at_s**2 / (2 * length_s))
    window = np.sin(np.pi * at_s / length_s) ** 2
    click: Samples = (np.sin(phase) * window).astype(np.float32)
    return click


def click_onsets_s() -> tuple[float, ...]:
    """When the clicks are due, in seconds from the first."""
    return tuple(float(at) for at in np.cumsum((0.0, *_SPACINGS_S)))


def find_delay(samples: Samples, rate: int, due_s: Sequence[float], *, shape: Shape = measuring_click) -> ClickDelay:
    """The delay of clicks of that shape in mono `samples`, -1 to 1, `rate` of them a second. They were due at `due_s`,
    rising, in seconds from the first sample; each where it begins.

    It is the median over the clicks that were heard, refused where all together are not heard, where fewer than half of
    them are, or the middle two thirds lie farther apart than `WIDEST_SPREAD_S`. Raises `ValueError` for fewer than two
    clicks, and for a rate that is none.
    """
    if len(due_s) < 2 or rate <= 0:
        raise ValueError("two clicks at least, and a positive rate")
    due = np.asarray(due_s, dtype=np.float64)
    if len(samples) < (due[-1] + EARLIEST_S) * rate:
        return _refused(DelayRefusal.CUT_SHORT, due)
    envelope = _envelope(samples, shape(rate))
    standing = np.minimum(envelope / _usual(envelope, rate), _MOST_TIMES)
    lags, together = _together(standing, rate, due)
    best = _first_of(together, rate)
    if not _stands_apart(together, best, rate):
        return _refused(DelayRefusal.NOT_HEARD, due)
    found = _each(envelope, standing, rate, due + lags[best] / rate) - due
    found = found[~np.isnan(found)]
    if len(found) < max(2, FEWEST_FOUND * len(due) // CLICKS):
        return _refused(DelayRefusal.NOT_HEARD, due, len(found))
    low, middle, high = (float(value) for value in np.quantile(found, (1 / 6, 1 / 2, 5 / 6)))
    refused = DelayRefusal.UNSTEADY if high - low > WIDEST_SPREAD_S else None
    return ClickDelay(
        delay_s=None if refused else middle, spread_s=high - low, found=len(found), played=len(due), refused=refused
    )


def _refused(why: DelayRefusal, due: _Floats, found: int = 0) -> ClickDelay:
    return ClickDelay(delay_s=None, spread_s=0.0, found=found, played=len(due), refused=why)


def _envelope(samples: Samples, shape: Samples) -> _Floats:
    """How much of the shape begins at each sample, whatever its sign and phase."""
    heard = np.nan_to_num(np.asarray(samples, dtype=np.float64), nan=0.0, posinf=0.0, neginf=0.0)
    size = 1 << (len(heard) + len(shape) - 1).bit_length()
    matched = np.fft.fft(heard, size) * np.conj(np.fft.fft(shape.astype(np.float64), size))
    # The analytic signal: what is of positive frequency, twice.
    matched[1 : size // 2] *= 2
    matched[size // 2 + 1 :] = 0
    envelope: _Floats = np.abs(np.fft.ifft(matched))[: len(heard)]
    return envelope


def _usual(envelope: _Floats, rate: int) -> _Floats:
    """What is usual around each sample, the middle value of what lies about it. It is never nothing: where nothing but
    the clicks is heard, what they are smeared to would stand out as much as they do.
    """
    block = max(1, round(_AROUND_S * rate / 8))
    count = -(-len(envelope) // block)
    padded = np.pad(envelope, (0, count * block - len(envelope)), mode="edge")
    middles = np.median(padded.reshape(count, block), axis=1)
    around = np.pad(middles, 8, mode="edge")
    usual = np.median(np.lib.stride_tricks.sliding_window_view(around, 17), axis=1)
    highest = padded.reshape(count, block)[: count // _SPACED_BLOCKS * _SPACED_BLOCKS].reshape(
        -1, _SPACED_BLOCKS * block
    )
    loud = float(np.median(highest.max(axis=1))) if len(highest) else 0.0
    least = max(loud / _CLEAREST, 1e-9)
    usual_by_sample: _Floats = np.repeat(np.maximum(usual, least), block)[: len(envelope)]
    return usual_by_sample


def _together(standing: _Floats, rate: int, due: _Floats) -> tuple[npt.NDArray[np.intp], _Floats]:
    """For each lag, in samples, the mean of what stands out at all clicks; outside of what was recorded is nothing."""
    lags = np.arange(round(EARLIEST_S * rate), round(LATEST_S * rate))
    total = np.zeros(len(lags))
    for at_s in due:
        first = round(at_s * rate) + int(lags[0])
        low, high = max(0, first), min(len(standing), first + len(lags))
        if high > low:
            total[low - first : high - first] += standing[low:high]
    return lags, total / len(due)


def _first_of(together: _Floats, rate: int) -> int:
    """The lag at which the clicks are heard: the loudest, or what is half as loud and little earlier."""
    best = int(np.argmax(together))
    low = max(0, best - round(_REACH_S * rate))
    usual = float(np.median(together))
    early = np.flatnonzero(together[low : best + 1] - usual >= _FIRST_SHARE * (together[best] - usual))
    first = low + int(early[0])
    # Up from the flank to the top of what came first.
    while first < best and together[first + 1] >= together[first]:
        first += 1
    return first


def _stands_apart(together: _Floats, best: int, rate: int) -> bool:
    """Whether this is more than chance brings about at any other lag."""
    near = round(2 * _REACH_S * rate)
    others = np.concatenate((together[: max(0, best - near)], together[best + near :]))
    usual = float(np.median(others))
    spread = 1.4826 * float(np.median(np.abs(others - usual)))
    return bool(together[best] - usual > _TOGETHER * spread and together[best] > 1.25 * others.max())


def _each(envelope: _Floats, standing: _Floats, rate: int, expected_s: _Floats) -> _Floats:
    """When each click was heard, in seconds: at the top of the envelope, between samples. NaN for one that was not."""
    reach, times = round(_REACH_S * rate), np.full(len(expected_s), np.nan)
    for number, at_s in enumerate(expected_s):
        middle = round(at_s * rate)
        low, high = max(1, middle - reach), min(len(envelope) - 1, middle + reach + 1)
        if high <= low:
            continue
        top = low + int(np.argmax(envelope[low:high]))
        early = np.flatnonzero(envelope[low : top + 1] >= _FIRST_SHARE * envelope[top])
        first = low + int(early[0])
        while first < top and envelope[first + 1] >= envelope[first]:
            first += 1
        if standing[first] >= _STANDS_OUT:
            times[number] = (first + _between(envelope, first)) / rate
    return times


def _between(envelope: _Floats, top: int) -> float:
    """How far from sample `top` the parabola through it and its neighbours is highest, -0.5 to 0.5."""
    if not 0 < top < len(envelope) - 1:
        return 0.0
    before, here, after = envelope[top - 1], envelope[top], envelope[top + 1]
    bend = before - 2 * here + after
    return 0.0 if bend >= 0 else float(np.clip(0.5 * (before - after) / bend, -0.5, 0.5))
