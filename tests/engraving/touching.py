"""What touches on an engraved page, by the ink of the letters as they are really set and the boxes of the signs."""

from collections.abc import Iterator
from itertools import combinations

from game.desk.staff_text import rendered_on_staff
from game.engraving.shapes import Box, Engraving, System, Text, boxes_of

BLACK = (0, 0, 0)


def ink_of(text: Text, space_px: int) -> Box:
    """The ink of a text in staff spaces, as it is set at a size."""
    image, ascent = rendered_on_staff(text.kind, text.text, BLACK, space_px)
    ink = image.get_bounding_rect()
    left = text.x * space_px - (image.get_width() if text.ends_at_x else 0) + ink.left
    top = text.baseline * space_px - ascent + ink.top
    return Box(left / space_px, top / space_px, (left + ink.width) / space_px, (top + ink.height) / space_px)


def touch(one: Box, other: Box) -> bool:
    """Whether two boxes share more than an edge."""
    across = one.left < other.right and other.left < one.right
    return across and one.top < other.bottom and other.top < one.bottom


def touching(engraving: Engraving, space_px: int) -> Iterator[str]:
    """Pairs of texts that touch, texts that touch print, and texts that run out of the page."""
    right = max(system.right for system in engraving.systems)
    for system in engraving.systems:
        yield from _touching(system, right, space_px)


def _touching(system: System, right: float, space_px: int) -> Iterator[str]:
    inks = [(text, ink_of(text, space_px)) for text in system.texts]
    for (one, ink), (other, other_ink) in combinations(inks, 2):
        if touch(ink, other_ink):
            yield f"{one.text} touches {other.text}"
    print_ = sorted(boxes_of(system), key=lambda box: box.left)
    for text, ink in inks:
        if any(touch(ink, box) for box in print_):
            yield f"{text.text} touches print"
        if ink.left < system.left - 1 / space_px or ink.right > right + 1 / space_px:
            yield f"{text.text} runs out of the page"
