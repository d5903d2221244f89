"""When a stream of samples began, by when its blocks arrived. Pure.

A sound card has a clock of its own, and systems hand its samples over late, in bursts, and with stamps of which nobody
knows what they mean. But none comes before it was taken: of many blocks the one that was least late tells best when the
stream began, and how it moves from window to window how fast the card's clock goes.
"""

from dataclasses import dataclass, replace

WINDOW_S = 2.0
"""So long arrivals are looked at together: PulseAudio hands over at least four times a second (as measured, 258 ms)."""

MOST_DRIFT = 500e-6
"""Quartz clocks differ by at most some hundred millionths (mem: consumer oscillators ±100 ppm, two of them)."""

JUMP_S = 0.025
"""A stream that is so much later for a whole window has lost samples of which nobody told (ours)."""


LOST_S = 0.003
"""Less than is ever lost at once (the shortest blocks of sound cards), and more than blocks mostly differ by (ours)."""


@dataclass(frozen=True, slots=True)
class StreamClock:
    """`began_s` is when the first sample was taken, on the clock by which arrivals are stamped, and as the card's clock
    has moved since; None before the first block. `samples` came so far. `jumped` counts where it had to be set anew.
    """

    rate: int
    began_s: float | None = None
    samples: int = 0
    window_from_s: float = 0.0
    least_s: float = float("inf")
    settled: bool = False
    jumped: int = 0

    def taken_s(self, sample: int) -> float:
        """When a sample was taken, by its number."""
        return (self.began_s or 0.0) + sample / self.rate


def after_block(clock: StreamClock, length: int, at_s: float, *, lost: bool = False) -> StreamClock:
    """The clock after a block of samples arrived at `at_s`. `lost` where the system said that some before it were
    lost.
    """
    samples = clock.samples + length
    began_s = at_s - samples / clock.rate
    if clock.began_s is None:
        return replace(clock, began_s=began_s, samples=samples, window_from_s=at_s, least_s=began_s)
    if lost and began_s - clock.began_s > LOST_S:
        clock = replace(clock, began_s=began_s, settled=False, window_from_s=at_s, least_s=began_s)
    least_s = min(clock.least_s, began_s)
    if not clock.settled:
        clock = replace(clock, began_s=least_s)
    clock = replace(clock, samples=samples, least_s=least_s)
    if at_s - clock.window_from_s < WINDOW_S:
        return clock
    return replace(_moved(clock), settled=True, window_from_s=at_s, least_s=float("inf"))


def _moved(clock: StreamClock) -> StreamClock:
    """After a window: followed as fast as a card's clock can drift, and set anew where samples were lost."""
    assert clock.began_s is not None
    off_s = clock.least_s - clock.began_s
    if off_s > JUMP_S or (off_s < -JUMP_S and clock.settled):
        return replace(clock, began_s=clock.least_s, jumped=clock.jumped + 1)
    most_s = MOST_DRIFT * WINDOW_S
    return replace(clock, began_s=clock.began_s + min(max(off_s, -most_s), most_s))
