"""Sound in blocks of some bars: strikes at absolute samples, cut into int16 stereo arrays that join without a gap.

A long take in one array would take hundreds of megabytes; blocks are a few hundred kilobytes each. Every strike
stands at a sample counted from the start of the stream, so nothing adds up from block to block.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

Wave = npt.NDArray[np.int16]
"""A mono sound, shape (samples,), at the output's own rate."""

StereoBlock = npt.NDArray[np.int16]
"""Shape (samples, 2): left, right."""

BLOCK_S = 2.0
"""A block is closed before the first strike that comes this long after its beginning."""

GUARD_S = 0.02
"""Blocks end this long before a strike: there is room to shorten or lengthen the silence where clocks drift."""

DAMPED_S = 0.03
"""How long a damped string takes to fall silent."""

_SPREAD_S = 1 / 60
_GOLDEN = 0.618034
"""Ends vary by up to a frame, each by the golden section further: seen once a frame, they fall everywhere in it."""

_FULL = 32767


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Strike:
    """A wave that begins at `sample` of the stream.

    `left` and `right` are factors, 0 to 1; it is damped, over `DAMPED_S`, from `damped_sample` on when that is given.
    Of what sounds together some may be of another `layer`, whose loudness can be changed apart.
    """

    sample: int
    wave: Wave
    left: float = 1.0
    right: float = 1.0
    damped_sample: int | None = None
    layer: int = 0

    def stop_sample(self, rate: int) -> int:
        """The first sample after it."""
        stop = self.sample + len(self.wave)
        return stop if self.damped_sample is None else min(stop, self.damped_sample + damping_samples(rate))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Block:
    """Samples `start` to `stop` (not included) of a stream, with all strikes that sound there."""

    start: int
    stop: int
    strikes: tuple[Strike, ...]


def damping_samples(rate: int) -> int:
    """`DAMPED_S` in samples."""
    return round(DAMPED_S * rate)


def blocks_of(strikes: Iterable[Strike], *, rate: int, end_sample: int | None = None) -> Iterator[Block]:
    """The blocks of a stream, one after another without a gap, as they are asked for.

    `strikes` come in the order of their samples and may go on for ever. The stream ends at `end_sample`, or later
    when the last strike still sounds. No block is longer than two block lengths and the guard.
    """
    start, sounding, length = 0, list[Strike](), round(BLOCK_S * rate)
    count, last_limit = 0, 0
    for strike in strikes:
        limit = strike.sample - round((GUARD_S + count * _GOLDEN % 1 * _SPREAD_S) * rate)
        stops = list(_far_stops(start, last_limit, limit, length))
        if limit - (stops[-1] if stops else start) >= length:
            stops.append(limit)
        for stop in stops:
            yield Block(start=start, stop=stop, strikes=tuple(sounding))
            start, sounding = stop, [one for one in sounding if one.stop_sample(rate) > stop]
        count, last_limit = count + len(stops), limit
        sounding.append(strike)
    end = max([end_sample or 0, start, *(one.stop_sample(rate) for one in sounding)])
    for stop in (*_far_stops(start, last_limit, end, length), end):
        if stop > start:
            yield Block(start=start, stop=stop, strikes=tuple(sounding))
            start = stop


def _far_stops(start: int, last_limit: int, limit: int, length: int) -> Iterator[int]:
    """Where to cut a stretch too long for one block, so that less than two block lengths are left to `limit`.

    First at `last_limit`, before the last strike, unless that is near the start: further on a strike might be hit.
    """
    if limit - start > 2 * length and last_limit - start > length // 2:
        start = last_limit
        yield start
    while limit - start > 2 * length:
        start += length
        yield start


def render(block: Block, *, rate: int, start: int | None = None, layer: int = 0) -> StereoBlock:
    """One layer of the block as sound. `start` replaces its own: earlier to lengthen it, later to shorten it at the
    front; what rings there from before glides from where it was into where it is to be.
    """
    start = block.start if start is None else start
    out = _rendered(block, start, block.stop, rate, layer)
    gliding = min(round(GUARD_S * rate) - abs(start - block.start), len(out))
    if start != block.start and block.start and gliding > 0:
        before = _rendered(block, block.start, block.start + gliding, rate, layer)
        coming = np.linspace(0, 1, gliding)[:, None]
        out[:gliding] = np.rint(out[:gliding] * coming + before * (1 - coming))
    return out


def _rendered(block: Block, start: int, stop: int, rate: int, layer: int) -> StereoBlock:
    out = np.zeros((max(0, stop - start), 2), np.int16)
    for strike in block.strikes:
        first, last = max(start, strike.sample), min(stop, strike.stop_sample(rate))
        if strike.layer == layer and first < last:
            _add(out[first - start : last - start], strike, first, rate)
    return out


def _add(out: StereoBlock, strike: Strike, first: int, rate: int) -> None:
    """Add what `strike` sounds like from sample `first` on; the sum is held at full scale."""
    at = first - strike.sample
    wave = strike.wave[at : at + len(out)].astype(np.float32)
    if strike.damped_sample is not None:
        left_over = strike.damped_sample + damping_samples(rate) - np.arange(first, first + len(out))
        wave *= np.clip(left_over / damping_samples(rate), 0, 1)
    for side, gain in enumerate((strike.left, strike.right)):
        out[:, side] = np.clip(out[:, side] + np.rint(gain * wave), -_FULL, _FULL)
