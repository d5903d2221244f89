"""What real devices and systems do to a pickup's stream that makes its dirt harder to tell: each changes the messages.

How far each goes is nowhere published: the ranges are ours. Chance is passed in.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from random import Random

from game.instrument.decoding.played import PlayedNote
from game.instrument.decoding.stamped import StampedMessage

_ON, _OFF = 0x9, 0x8
_OCTAVE = 12
# A second note on a string is a meant one's dirt for so long at most.
_DIRT_WITHIN_S = 1.5

Stream = tuple[StampedMessage, ...]


def with_grain(messages: Stream, period_s: float) -> Stream:
    """Messages as a system hands them over that passes them on once a period: 5.3 ms for 256 frames at 48 kHz."""
    return tuple(replace(one, at_s=math.ceil(one.at_s / period_s) * period_s) for one in messages)


def with_late_ends(messages: Stream, most_s: float, rng: Random) -> Stream:
    """Each end of a note comes late by up to so much: after the next has begun, be it another pitch or the same."""
    moved = [replace(one, at_s=one.at_s + rng.uniform(0, most_s)) if _kind(one) == _OFF else one for one in messages]
    return tuple(sorted(moved, key=lambda one: one.at_s))


def with_flickers_after_ends(messages: Stream, share: float, rng: Random) -> Stream:
    """After so many of the ends of notes the fading string is heard an octave off for a moment, about as loud, and
    until the next note at most.
    """
    added, loud = list(messages), dict[tuple[int, int], int]()
    for index, one in enumerate(messages):
        channel, number = _channel(one), one.message[1]
        if _kind(one) == _ON:
            loud[channel, number] = one.message[2]
        if _kind(one) != _OFF or rng.random() >= share:
            continue
        on_s = one.at_s + rng.uniform(0.0, 0.06)
        off_s = min(on_s + rng.uniform(0.012, 0.105), _next_on_s(messages, index, channel) - 0.0001)
        if off_s > on_s:
            velocity = max(1, round(rng.uniform(0.5, 1.0) * loud.get((channel, number), 60)))
            added += _told(one, channel, number + _OCTAVE, on_s, off_s, velocity)
    return tuple(sorted(added, key=lambda one: one.at_s))


def with_louder_dirt(messages: Stream, meant: Sequence[PlayedNote], times: float) -> Stream:
    """Whatever nobody meant, told so many times as loud."""
    changed = []
    for one in messages:
        is_dirt = _kind(one) == _ON and not any(
            note.velocity == one.message[2] and 0 <= one.at_s - note.started_s < _DIRT_WITHIN_S for note in meant
        )
        if is_dirt:
            velocity = min(127, round(times * one.message[2]))
            changed.append(replace(one, message=bytes((*one.message[:2], velocity))))
        else:
            changed.append(one)
    return tuple(changed)


def on_one_channel(messages: Stream) -> Stream:
    """All strings on channel 1."""
    return tuple(replace(one, message=bytes((one.message[0] & 0xF0, *one.message[1:]))) for one in messages)


def _told(like: StampedMessage, channel: int, number: int, on_s: float, off_s: float, velocity: int) -> Stream:
    return (
        replace(like, at_s=on_s, message=bytes((_ON << 4 | channel, number, velocity))),
        replace(like, at_s=off_s, message=bytes((_OFF << 4 | channel, number, 0))),
    )


def _next_on_s(messages: Stream, index: int, channel: int) -> float:
    later = (one.at_s for one in messages[index + 1 :] if _kind(one) == _ON and _channel(one) == channel)
    return next(later, math.inf)


def _kind(one: StampedMessage) -> int:
    return one.message[0] >> 4


def _channel(one: StampedMessage) -> int:
    return one.message[0] & 0x0F
