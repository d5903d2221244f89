"""A pedal as a command: each press counts like a pluck of the free string. Pure.

MIDI 1.0 gives the switches of pedals the controllers 64 (sustain), 66 (sostenuto) and 67 (soft); other controllers are
learned by pressing.
"""

from dataclasses import dataclass

from game.instrument.decoding.messages import ControlChange, decode
from game.instrument.decoding.stamped import StampedMessage

_DOWN = 64
# Bank select, data entry, parameter numbers and channel mode are no pedals, whatever is sent on them.
_NEVER = frozenset({0, 6, 32, 38, 96, 97, 98, 99, 100, 101, *range(120, 128)})


@dataclass(frozen=True, slots=True)
class Pedals:
    """Which pedals are down, as (channel, controller)."""

    down: frozenset[tuple[int, int]] = frozenset()


def pedal_pressed(pedals: Pedals, stamped: StampedMessage, known: tuple[int, ...]) -> tuple[Pedals, bool]:
    """The pedals after a message, and whether one of the `known` controllers was pressed by it."""
    message = decode(stamped.message)
    if not isinstance(message, ControlChange) or message.controller not in known:
        return pedals, False
    key = (message.channel, message.controller)
    is_down = message.setting >= _DOWN
    if is_down == (key in pedals.down):
        return pedals, False
    return Pedals(pedals.down | {key} if is_down else pedals.down - {key}), is_down


def learned_controller(stamped: StampedMessage) -> int | None:
    """The controller of a pedal that was just pressed, None for any other message."""
    message = decode(stamped.message)
    if not isinstance(message, ControlChange) or message.controller in _NEVER or message.setting < _DOWN:
        return None
    return message.controller
