"""What the computer's keys are called where they play the neck: by what is printed on them, on this keyboard."""

import string
from collections.abc import Mapping

import pygame

from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.neck_drawing import NeckDrawing
from game.desk.typography import Face
from game.instrument.sources.computer_keys import keys_of_places
from game.neck.neck_map import NeckMap
from game.neck.tuning import Place

# SDL knows 512 scancodes: numbers of so many bits.
_BITS = 9
_SIZE, _PATCH, _SIGN = 20.0, 21.0, 11.0
_WITH_SHIFT = "↑"


def letters_of_places(neck_map: NeckMap) -> Mapping[Place, str]:
    """The letter or digit that plays a place, for the four frets of the position and the stretches beside them, whose
    keys go with Shift.
    """
    printed = printed_on_keys()
    keys = keys_of_places(position=neck_map.position, strings=neck_map.tuning.strings, frets=neck_map.frets)
    return {
        place: _WITH_SHIFT * key.shift + printed[key.scancode] for place, key in keys.items() if key.scancode in printed
    }


def printed_on_keys() -> dict[int, str]:
    """What is printed on the keys, by their scancode: letters as this keyboard has them, and the digits where they are
    on all.
    """
    # A table of pressed keys finds a key by what is on it. One for each bit of the scancodes, with those keys pressed
    # whose number has the bit, tell together which number a key has.
    tables = [
        pygame.key.ScancodeWrapper([bool(scancode >> bit & 1) for scancode in range(1 << _BITS)])
        for bit in range(_BITS)
    ]
    keys = {letter: pygame.key.key_code(letter) for letter in string.ascii_lowercase}
    letters = {
        sum(table[key] << bit for bit, table in enumerate(tables)): letter.upper() for letter, key in keys.items()
    }
    return letters | {pygame.KSCAN_1 + number: str(number + 1) for number in range(9)}


def draw_letters(
    canvas: Canvas, neck: NeckDrawing, letters: Mapping[Place, str], inked: frozenset[Place] = frozenset()
) -> None:
    """Write the letters where their places are, quietly: rings go over them. Where a place is in ink the letter stands
    on that: it still has to be played.
    """
    style, on_ink = (Style(Face.TEXT, _SIZE, colour) for colour in (canvas.theme.faded, canvas.theme.paper))
    unit = canvas.sheet.unit
    for place, letter in letters.items():
        if place.fret > neck.last_fret:
            continue
        x, y = (px / unit for px in neck.centre_of(place))
        width = _PATCH + _SIGN * (len(letter) - 1)
        if place not in inked:
            patch = canvas.rect(x - width / 2, y - _PATCH / 2, width, _PATCH)
            canvas.surface.fill(canvas.surface.get_at(neck.beside(place)), patch)
        canvas.write(letter, (x, y + 0.33 * _SIZE), on_ink if place in inked else style, Align.CENTRE)
