"""Type: one text face and one for figures, both shipped. Sizes are in pixels; what was set once is kept for a while."""

from collections import OrderedDict
from enum import Enum
from functools import lru_cache
from itertools import chain

import pygame

from game.desk.theme import Colour
from game.paths import shipped

_KEPT = 400
# Each keeps its file open, and a window that is pulled larger asks for every size on the way.
_KEPT_FONTS = 48
# Most of what a frame sets stood in the one before, at the same width.
_KEPT_WIDTHS = 4000


class Face(Enum):
    """The faces we ship, by file name."""

    TEXT = "HomefretText-Regular"
    ITALIC = "HomefretText-Italic"
    TITLE = "HomefretText-SemiBold"
    FIGURES = "HomefretFigures"


@lru_cache(maxsize=_KEPT_FONTS)
def font(face: Face, px: int) -> pygame.font.Font:
    """The face at a size."""
    return pygame.font.Font(shipped("content", "fonts", f"{face.value}.ttf"), px)


_set: OrderedDict[tuple[str, Face, int, Colour], pygame.Surface] = OrderedDict()


def rendered(text: str, face: Face, px: int, colour: Colour) -> pygame.Surface:
    """A line of text as a surface; do not draw on it, it is kept and given out again."""
    key = (text, face, px, colour)
    found = _set.get(key)
    if found is None:
        found = _set[key] = font(face, px).render(text, True, colour)
        if len(_set) > _KEPT:
            _set.popitem(last=False)
    else:
        _set.move_to_end(key)
    return found


@lru_cache(maxsize=_KEPT_WIDTHS)
def text_width(text: str, face: Face, px: int) -> int:
    """Width of a line in pixels."""
    return font(face, px).size(text)[0]


def wrapped(text: str, face: Face, px: int, width: int) -> tuple[str, ...]:
    """The text in lines that fit `width`; a word that is wider is broken."""
    lines: list[str] = []
    for word in chain.from_iterable(_broken(word, face, px, width) for word in text.split()):
        if lines and text_width(f"{lines[-1]} {word}", face, px) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return tuple(lines)


def _broken(word: str, face: Face, px: int, width: int) -> tuple[str, ...]:
    """A word in pieces that fit, each of a sign at least: names of files may be long and without a space."""
    if text_width(word, face, px) <= width:
        return (word,)
    pieces = [""]
    for sign in word:
        if pieces[-1] and text_width(pieces[-1] + sign, face, px) > width:
            pieces.append("")
        pieces[-1] += sign
    return tuple(pieces)


def shortened(text: str, face: Face, px: int, width: int) -> str:
    """The text, cut with an ellipsis where it is wider than `width`."""
    if text_width(text, face, px) <= width:
        return text
    while text and text_width(text + "…", face, px) > width:
        text = text[:-1]
    return text.rstrip() + "…"


def with_music_signs(text: str) -> str:
    """ASCII note and chord names with musical signs: "Bb7" becomes "B♭7", "F#m" "F♯m".

    A b is a flat only after the letter of a note or before a number (Bb, 7b5), never inside a word.
    """
    shown: list[str] = []
    for index, sign in enumerate(text):
        before, after = shown[-1] if shown else "", text[index + 1 : index + 2]
        if sign == "#":
            shown.append("♯")
        elif sign == "b" and (before in tuple("ABCDEFG♭") or after.isdigit()):
            shown.append("♭")
        else:
            shown.append(sign)
    return "".join(shown)
