"""Small pictures as SVG by hand: where a class of forty is to be drawn in some seconds, the drawing library of charts
is too slow. Lengths are those of the picture's own view; lettering is that of the page.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from typing import Literal

INK, READ, QUIET, ACCENT, LIGHT, PAPER = "#201d1a", "#1e4284", "#57504a", "#b8482c", "#ddd3c1", "#ffffff"
"""The ink, blue-black for what was read, grey, the red of the pencil, a light line, and white."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """An `<svg>` element, and its caption."""

    svg: str
    caption: str


def svg_of(width: float, height: float, parts: Iterable[str], alternative: str) -> str:
    """The picture as one `<svg>` element, as wide as its place; `alternative` says in words what is to be seen."""
    said = escape(alternative, quote=True)
    view = f"0 0 {_figure(width)} {_figure(height)}"
    opening = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" role="img" aria-label="{said}">'
    return f"{opening}{''.join(parts)}</svg>"


def line(x1: float, y1: float, x2: float, y2: float, colour: str, width: float = 1.0, *, dashes: str = "") -> str:
    """A straight line; `dashes` such as "4 3"."""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    x1_, y1_, x2_, y2_ = map(_figure, (x1, y1, x2, y2))
    return (
        f'<line x1="{x1_}" y1="{y1_}" x2="{x2_}" y2="{y2_}" stroke="{colour}" stroke-width="{_figure(width)}"{dashed}/>'
    )


def lines_through(points: Iterable[tuple[float, float]], colour: str, width: float = 1.0) -> str:
    """Straight lines from point to point."""
    through = " ".join(f"{_figure(x)},{_figure(y)}" for x, y in points)
    return f'<polyline points="{through}" fill="none" stroke="{colour}" stroke-width="{_figure(width)}"/>'


def dot(x: float, y: float, radius: float, fill: str, edge: str, width: float = 1.0) -> str:
    """A circle."""
    return (
        f'<circle cx="{_figure(x)}" cy="{_figure(y)}" r="{_figure(radius)}" fill="{fill}" stroke="{edge}" '
        f'stroke-width="{_figure(width)}"/>'
    )


def bar(x: float, y: float, width: float, height: float, fill: str) -> str:
    """A rectangle from its top left corner."""
    x_, y_, width_, height_ = map(_figure, (x, y, width, height))
    return f'<rect x="{x_}" y="{y_}" width="{width_}" height="{height_}" fill="{fill}"/>'


def words(
    text: str,
    x: float,
    y: float,
    size: float,
    colour: str = INK,
    *,
    anchor: Literal["start", "middle", "end"] = "start",
    bold: bool = False,
) -> str:
    """A line of text, its baseline at `y`; in `bold` letters it stands out from lines behind it."""
    told = f' font-weight="600" paint-order="stroke" stroke="{PAPER}" stroke-width="4"' if bold else ""
    return (
        f'<text x="{_figure(x)}" y="{_figure(y)}" font-size="{_figure(size)}" text-anchor="{anchor}" '
        f'fill="{colour}"{told}>{escape(text)}</text>'
    )


def _figure(number: float) -> str:
    return f"{number:.1f}".rstrip("0").rstrip(".")
