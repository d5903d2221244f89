"""The neck below the music of a page: what was found on it, what is pressed, and where the teacher points."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from game.desk.kit.by_pencil import draw_pencil, pencil_words
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.inked import draw_dot
from game.desk.neck_drawing import NeckDrawing
from game.desk.typography import Face
from game.neck.tuning import Place
from game.screens.reading.neck_letters import draw_letters
from game.text.catalogue import say

# A dot is wider where the letter on it has a sign before it.
_DOT, _WIDE_DOT = 26, 34


@dataclass(frozen=True, slots=True, kw_only=True)
class OnNeck:
    """What stands on a neck: `found` places in ink, the `letters` of the keys that play it, the place the teacher
    `shows`, and that of the finger that is `pressed`.
    """

    found: frozenset[Place] = frozenset()
    letters: Mapping[Place, str] = field(default_factory=dict)
    shows: Place | None = None
    pressed: Place | None = None


def draw_page_neck(canvas: Canvas, neck: NeckDrawing, on_neck: OnNeck, right: float) -> None:
    """Draw the neck; the teacher's words above it end before `right` units."""
    theme, unit = canvas.theme, canvas.sheet.unit
    neck.draw(canvas.surface, theme, numbered=False)
    for place in on_neck.found:
        x, y = neck.centre_of(place)
        wide = len(on_neck.letters.get(place, "")) > 1
        draw_dot(canvas, (x / unit, y / unit), _WIDE_DOT if wide else _DOT, theme.read)
    draw_letters(canvas, neck, on_neck.letters, on_neck.found)
    if on_neck.shows is not None:
        _point_at(canvas, neck, on_neck.shows, right)
    if on_neck.pressed is not None:
        neck.draw_finger(canvas.surface, on_neck.pressed, theme)


def _point_at(canvas: Canvas, neck: NeckDrawing, place: Place, right: float) -> None:
    """The teacher's ring around a place, and a stroke to it from a word above the neck."""
    accent, unit = canvas.theme.accent, canvas.sheet.unit
    neck.draw_finger(canvas.surface, place, canvas.theme, seed=4, colour=accent)
    (x, y), top = (px / unit for px in neck.centre_of(place)), neck.room.top / unit
    middle = min(x + 26, right - 24)
    pencil_words(canvas, say("page.here"), (middle, top - 9), Style(Face.ITALIC, 23, accent), Align.CENTRE)
    draw_pencil(canvas, [(middle - 8, top - 4), (x + 4, y - 13)], 1.8, accent, 21)
