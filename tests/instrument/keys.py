"""Which computer key plays a place."""

from game.instrument.sources.computer_keys import ComputerKey, place_of

_KEYS = [ComputerKey(scancode, shift) for shift in (False, True) for scancode in range(256)]


def key_of(place, *, position):
    """The key for a place, found by trying all of them; None for a place out of the position and its stretches."""
    return next((key for key in _KEYS if place_of(key, position=position) == place), None)
