"""What is set on a picture, text by text: where its ink lies, how large it is, and what is wrong with that."""

import sys
from dataclasses import dataclass
from itertools import combinations

import pygame

from game.desk import pencil
from game.desk.kit import by_pencil
from game.desk.kit.canvas import Align, Canvas
from game.desk.typography import font, rendered

SMALLEST_TYPE = 20
"""In units; 15 pixels in the smallest window."""

_TOUCH = 2
_SOLID, _ALIKE, _SEEN = 200, (70, 70, 70, 255), 0.5
"""From that opacity on a pixel is print; it is seen where its colour is so near; of a text so much has to be seen."""

_AROUND_A_BOX = 16
"""Words of a corner may look out of it by so many pixels on both sides together."""


@dataclass(frozen=True, slots=True)
class SetText:
    """A text with the pixels its ink takes, its size in units, and its print: which pixels those are."""

    text: str
    ink: pygame.Rect
    units: float
    print_of: tuple[pygame.mask.Mask, tuple[int, int, int]] | None = None


class SetType:
    """Remembers what is written, in print or in pencil, onto pictures of a window's size, from now on: `texts` are
    those since `begin`.
    """

    def __init__(self, monkeypatch, size: tuple[int, int]) -> None:
        self.texts: list[SetText] = []
        self._size = size
        in_pencil = by_pencil.pencil_words
        monkeypatch.setattr(Canvas, "write", self._remembering(Canvas.write, rendered))
        for name, module in tuple(sys.modules.items()):
            if name.startswith("game.") and getattr(module, "pencil_words", None) is in_pencil:
                monkeypatch.setattr(module, "pencil_words", self._remembering(in_pencil, pencil.letters))

    def begin(self) -> None:
        """A picture is drawn anew."""
        self.texts.clear()

    def _remembering(self, write, image_of):
        def written(canvas, text, at, style, align=Align.LEFT):
            if canvas.surface.get_size() == self._size and text.strip():
                px = canvas.px(style.size)
                image = image_of(text, style.face, px, style.colour)
                x, baseline = canvas.point(at)
                shift = {Align.LEFT: 0, Align.CENTRE: image.get_width() // 2, Align.RIGHT: image.get_width()}[align]
                ink = image.get_bounding_rect().move(x - shift, baseline - font(style.face, px).get_ascent())
                solid = pygame.mask.from_surface(image.subsurface(image.get_bounding_rect()), _SOLID)
                self.texts.append(SetText(text, ink, style.size, (solid, style.colour)))
            return write(canvas, text, at, style, align)

        return written


def faults(texts: list[SetText], table) -> list[str]:
    """What is wrong with a picture, a sentence each. The same words at the same place are one text in two inks."""
    texts = list({(one.text, tuple(one.ink)): one for one in texts}.values())
    paper = table.context.sheet.paper
    inside = pygame.Rect(paper.left, 0, paper.width, table.app.surface.get_height())
    found = [f"{one.text!r} is set in {one.units} units" for one in texts if one.units < SMALLEST_TYPE]
    found += [f"{one.text!r} is cut at {one.ink}" for one in texts if not inside.contains(one.ink)]
    found += [f"{one.text!r} lies on {two.text!r}" for one, two in combinations(texts, 2) if shares(one.ink, two.ink)]
    found += [f"{one.text!r} is painted over" for one in texts if not is_seen(one, table.app.surface)]
    boxes = [box for box, _ in table.context.window._boxes]
    found += [
        f"{one.text!r} crosses {box}"
        for one in texts
        for box in boxes
        if shares(one.ink, box) and not box.inflate(_AROUND_A_BOX, _AROUND_A_BOX).contains(one.ink)
    ]
    return found


def is_seen(one: SetText, picture: pygame.Surface) -> bool:
    """Whether a text still stands there in its colour, and nothing was drawn over it."""
    if one.print_of is None or not picture.get_rect().contains(one.ink):
        return True
    solid, colour = one.print_of
    there = pygame.mask.from_threshold(picture.subsurface(one.ink), colour, _ALIKE)
    return solid.overlap_area(there, (0, 0)) >= _SEEN * solid.count()


def shares(one: pygame.Rect, two: pygame.Rect) -> bool:
    """Whether two share more than a touch."""
    both = one.clip(two)
    return both.width > _TOUCH and both.height > _TOUCH
