"""Whichever plays: of several devices one is listened to at a time, the others wait until it is silent. Pure.

It also keeps one instrument that arrives by two ways (two ports of one device, or a port and a cable drawn
to ours) from being heard twice.
"""

from dataclasses import dataclass

from game.instrument.decoding.stamped import StampedMessage

# How long a device stays the one that plays after its last message: longer than a player thinks over one
# note would keep a second instrument out; shorter would let the other way in between two notes. Ours.
STAYS_ACTIVE_S = 2.0


@dataclass(frozen=True, slots=True)
class ActiveDevice:
    """Which `source` is listened to (None before the first), and when it was last heard."""

    source: str | None = None
    heard_s: float = 0.0


def active_after(active: ActiveDevice, stamped: StampedMessage) -> tuple[ActiveDevice, bool]:
    """Who is listened to after a message that is more than clock or active sensing, and whether that one is."""
    silent_s = stamped.at_s - active.heard_s
    if active.source in (None, stamped.source) or silent_s > STAYS_ACTIVE_S:
        return ActiveDevice(stamped.source, stamped.at_s), True
    return active, False
