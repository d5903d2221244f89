"""Whichever plays is listened to."""

from game.instrument.decoding.active_device import ActiveDevice, active_after
from game.instrument.decoding.stamped import StampedMessage


def listened_to(messages):
    active, kept = ActiveDevice(), []
    for at_s, source in messages:
        active, listened = active_after(active, StampedMessage(at_s, 0.0, b"", source))
        if listened:
            kept.append((at_s, source))
    return kept


def test_the_first_device_to_play_is_listened_to_and_the_other_waits():
    assert listened_to([(0.0, "guitar"), (0.1, "keys"), (1.0, "guitar")]) == [
        (0.0, "guitar"),
        (1.0, "guitar"),
    ]


def test_after_two_silent_seconds_another_device_is_heard():
    assert listened_to([(0.0, "guitar"), (2.1, "keys")]) == [(0.0, "guitar"), (2.1, "keys")]


def test_one_instrument_by_two_ways_is_heard_once():
    twice = [(0.3 * n + 0.001 * way, f"way {way}") for n in range(20) for way in (0, 1)]
    assert listened_to(twice) == [(0.3 * n, "way 0") for n in range(20)]
