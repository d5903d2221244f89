"""The computer keyboard as a neck: four rows are the four frets of the position, a column each string. Pure.

It lies as a chord chart does (trade): the low string at the left, the nut at the top.

    string     6  5  4  3  2  1
    fret P     1  2  3  4  5  6        with shift: fret P-1
    fret P+1   Q  W  E  R  T  Y
    fret P+2   A  S  D  F  G  H
    fret P+3   Z  X  C  V  B  N        with shift: fret P+4

Fewer strings leave the columns at the right empty. A seventh has 7, U, J, M behind string 1's keys of six: the low
string stays at the left. The lowest of eight has no keys, for those to the right are commands; it is clicked.

Keys are known by where they are, not by their letter, so it is the same on every national layout: scancodes
are the usage numbers of the USB HID Usage Tables, keyboard page 0x07, which SDL uses too. The right half of
the keyboard, the space bar and the arrows stay free.
"""

from dataclasses import dataclass

from game.instrument.decoding.played import PlayedNote
from game.neck.tuning import DEFAULT_FRETS, STANDARD, Place, Tuning

SOURCE = "computer keys"

# USB HID Usage Tables 1.5, keyboard page: one row a fret, from the lowest string to the highest.
_ROWS = (
    (30, 31, 32, 33, 34, 35, 36),
    (20, 26, 8, 21, 23, 28, 24),
    (4, 22, 7, 9, 10, 11, 13),
    (29, 27, 6, 25, 5, 17, 16),
)
_MOST_COLUMNS = len(_ROWS[0])
# Frets from the first finger's, by row; with shift the outer rows stretch.
_PLAIN = {0: 0, 1: 1, 2: 2, 3: 3}
_SHIFTED = {0: -1, 3: 4}


@dataclass(frozen=True, slots=True)
class ComputerKey:
    """A key by its scancode, alone or with shift."""

    scancode: int
    shift: bool = False


_REACH = {
    ComputerKey(scancode, shift): (column, reach)
    for shift, reaches in ((False, _PLAIN), (True, _SHIFTED))
    for row, reach in reaches.items()
    for column, scancode in enumerate(_ROWS[row])
}


def place_of(
    key: ComputerKey, *, position: int, strings: int = STANDARD.strings, frets: int = DEFAULT_FRETS
) -> Place | None:
    """The place under a key when the first finger is at fret `position`; None for other keys and beyond the
    neck.
    """
    if key not in _REACH:
        return None
    column, reach = _REACH[key]
    string, fret = min(strings, _MOST_COLUMNS) - column, position + reach
    return Place(string, fret) if string >= 1 and 0 <= fret <= frets else None


def keys_of_places(
    *, position: int, strings: int = STANDARD.strings, frets: int = DEFAULT_FRETS
) -> dict[Place, ComputerKey]:
    """The key of each place that the first finger at fret `position` has one for, the stretches with shift."""
    places = ((key, place_of(key, position=position, strings=strings, frets=frets)) for key in _REACH)
    found: dict[Place, ComputerKey] = {}
    for key, place in places:
        if place is not None:
            found.setdefault(place, key)
    return found


def played_by(
    key: ComputerKey, *, at_s: float, position: int, tuning: Tuning = STANDARD, frets: int = DEFAULT_FRETS
) -> PlayedNote | None:
    """The note a key plays at `at_s` on the master clock; None for a key that is no place."""
    place = place_of(key, position=position, strings=tuning.strings, frets=frets)
    if place is None:
        return None
    return PlayedNote(started_s=at_s, sounding=tuning.sounding(place), place=place, source=SOURCE)
