"""Where the entries of one device stand in time. Pure.

The count of a device is never reordered, and what its clock said is kept; but a clock may be set wrong, and put right.
A device that finds its clock earlier than what it last recorded says so (`ClockPutRight`): then what it had recorded
for times that had not come yet was recorded by a wrong clock, and moves back by what the clock was ahead. Another
computer may say the same of it, by its own clock.

That is presumed, for it is the newest clock that somebody has just set. Where the device's clock leaps ahead again as
far as it had fallen, by days, it was the present that lay behind (an empty battery): then nothing is moved, and what
was recorded meanwhile stands behind what came before it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

TOLERATED_US = 120_000_000
"""Clocks are set by some seconds all the time: two minutes are no wrong clock. Ours."""

_LEAP_US = 2 * 86_400_000_000
"""From two days on it is asked whether it was the present that was wrong; less does no harm either way. Ours."""


@dataclass(frozen=True, slots=True)
class Stamp:
    """An entry by its count, negative for one of an old log, and what the clock of its device said, in microseconds."""

    sequence: int
    at_us: int


@dataclass(frozen=True, slots=True)
class ClockPutRight:
    """It was `now_us` when the entries up to count `upto` were there: none of them can be of later. `own` where the
    device says so of itself.
    """

    upto: int
    now_us: int
    own: bool = True


def moments(chain: Sequence[Stamp], put_right: Iterable[ClockPutRight]) -> list[int]:
    """The moment of each entry of a device, in microseconds. `chain` is in the order of its counts, and so are the
    moments, except for those of an old log, which were never counted together.
    """
    at = [stamp.at_us for stamp in chain]
    for said in sorted(put_right, key=lambda said: (said.upto, said.now_us, said.own)):
        if not (said.own and _refuted(chain, at, said)):
            _move_back(chain, at, said)
    latest = None
    for index, stamp in enumerate(chain):
        if stamp.sequence > 0:
            latest = at[index] if latest is None else max(latest, at[index])
            at[index] = latest
    return at


def _move_back(chain: Sequence[Stamp], at: list[int], said: ClockPutRight) -> None:
    """Those of times that had not come yet are moved by as much as the last of them was ahead, but never before what
    came before them.
    """
    ahead = [index for index, stamp in enumerate(chain) if stamp.sequence <= said.upto and at[index] > said.now_us]
    if not ahead:
        return
    by_us = max(at[index] for index in ahead) - said.now_us
    before = [at[index] for index in range(ahead[0]) if chain[index].sequence > 0]
    for index in ahead:
        at[index] = max([at[index] - by_us, *before]) if chain[index].sequence > 0 else at[index] - by_us


def _refuted(chain: Sequence[Stamp], at: Sequence[int], said: ClockPutRight) -> bool:
    """Whether the clock later leapt ahead again, over most of what it had fallen, to where it had been."""
    before = max((at[index] for index, stamp in enumerate(chain) if stamp.sequence <= said.upto), default=said.now_us)
    fallen_us = before - said.now_us
    if fallen_us < _LEAP_US:
        return False
    since = [said.now_us, *(stamp.at_us for stamp in chain if stamp.sequence > max(said.upto, 0))]
    return any(one - other >= fallen_us / 2 and one >= before for other, one in pairwise(since))
