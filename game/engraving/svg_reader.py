"""verovio's SVG taken apart: each drawn element with its box, its owner and its place. Pure.

pygame's SVG loader knows neither `<use>` nor style sheets, so every element is written out again by itself.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple
from xml.etree import ElementTree as ET

from game.engraving.engraver import UNITS_PER_SPACE
from game.engraving.glyphs import glyph_box
from game.engraving.ids import head_of
from game.engraving.shapes import Box, Join, Shape, System
from game.music.clef import Clef
from game.music.written import HeadId

_SVG: Final = "{http://www.w3.org/2000/svg}"
_HREF: Final = "{http://www.w3.org/1999/xlink}href"
_NUMBERS = re.compile(r"-?\d+\.?\d*")
_OPENING_SIGNS: Final = {"clef", "keySig", "meterSig"}
_JOINS: Final = {"beam", "tie"}
# What stands above the staff: of chord symbols the moment is taken from here, of all else which bar it belongs to.
_TEXT_CLASSES: Final = {"harm", "dir", "reh", "repeatMark", "tempo"}
# Drawn by ourselves, so that they keep clear of texts in our own faces: brackets of endings.
_DRAWN_ELSEWHERE: Final = {"placeholder", "mNum", "label", "voltaBracket"}


@dataclass(frozen=True, slots=True)
class RawText:
    """A text that stands above a bar: verovio's class for it, the index of the bar, what it says, and the x of its
    moment in spaces.
    """

    kind: str
    bar: int
    text: str
    x: float


@dataclass(frozen=True, slots=True)
class RawSign:
    """A segno or a coda that stands above a bar, where verovio put it."""

    bar: int
    shape: Shape


class _Where(NamedTuple):
    """What encloses an element: its group's class, whether a clef or signature is around it, which text it is
    part of, the note, beam or tie it belongs to.
    """

    within: str = ""
    opening: bool = False
    text: str = ""
    head: HeadId | None = None
    join: tuple[HeadId, ...] = ()


class SvgReader:
    """Reads one rendered page in `clef`. Afterwards `systems`, `texts` and `signs` hold what was found in its first
    `bars` bars.
    """

    def __init__(self, svg: str, face_name: str, bars: int, clef: Clef = Clef.TREBLE) -> None:
        self.systems: list[System] = []
        self.texts: list[RawText] = []
        self.signs: list[RawSign] = []
        self._face_name = face_name
        self._bars, self._clef = bars, clef
        self._bar = -1
        root = ET.fromstring(svg)  # noqa: S314 - our own engraver's output
        self._outlines = {symbol.get("id", ""): _child(symbol, "path").get("d", "") for symbol in _child(root, "defs")}
        self._read(_child(root, "svg"), _Where())

    def _read(self, element: ET.Element, where: _Where) -> None:
        tag = element.tag.removeprefix(_SVG)
        if tag in ("g", "svg"):
            self._read_group(element, where)
        elif tag == "text":
            self._read_text(element, where)
        elif where.within == "staff":
            self._staff_line(element)
        else:
            shape = self._shape(tag, element)
            if shape:
                self._place(shape, where)

    def _read_group(self, group: ET.Element, where: _Where) -> None:
        classes = (group.get("class") or "").split()
        if not _DRAWN_ELSEWHERE.isdisjoint(classes):
            return
        if "system" in classes:
            self.systems.append(System(clef=self._clef))
        elif "measure" in classes:
            self._bar += 1
            if self._bar >= self._bars:
                return
            self.systems[-1].bars.append(self._bar)
        within = classes[0] if classes else ""
        inside = _Where(
            within,
            where.opening or within in _OPENING_SIGNS,
            within if within in _TEXT_CLASSES else where.text,
            head_of(group.get("id", "")) if within == "note" else where.head,
            _joined(group, within) or where.join,
        )
        for child in group:
            self._read(child, inside)

    def _place(self, shape: Shape, where: _Where) -> None:
        system = self.systems[-1]
        if where.within in _JOINS:
            self._join(where.join, shape)
        elif where.head:
            system.groups.setdefault(where.head, []).append(shape)
            if where.within == "notehead":
                known = system.head_boxes.get(where.head, shape.box)
                system.head_boxes[where.head] = known.union(shape.box)
        elif where.text:
            # Of a section word only the letters are wanted: its box is drawn to fit them in our own face.
            if where.text != "reh":
                self.signs.append(RawSign(self._bar, shape))
        elif where.opening and len(system.bars) == 1 and not system.groups:
            system.opening.append(shape)
        else:
            system.ground.append(shape)
            if where.within == "barLine":
                self._bar_end(shape)

    def _bar_end(self, shape: Shape) -> None:
        """Keep the leftmost stroke of the bar line at the end of the bar being read."""
        system = self.systems[-1]
        if len(system.bar_ends) < len(system.bars):
            system.bar_ends.append(shape.box.left)

    def _staff_line(self, element: ET.Element) -> None:
        x0, y0, x1, _ = _numbers(element.get("d"))
        system = self.systems[-1]
        if system.right == 0.0:
            system.top_line, system.left = y0 / UNITS_PER_SPACE, x0 / UNITS_PER_SPACE
        system.right = max(system.right, x1 / UNITS_PER_SPACE)

    def _join(self, heads: tuple[HeadId, ...], shape: Shape) -> None:
        joins = self.systems[-1].joins
        if joins and joins[-1].heads == heads:
            joins[-1] = Join(heads, (*joins[-1].shapes, shape))
        else:
            joins.append(Join(heads, (shape,)))

    def _read_text(self, element: ET.Element, where: _Where) -> None:
        words = re.sub(r"\s+", " ", "".join(element.itertext())).strip()
        if where.text and words and element.get("x"):
            self.texts.append(RawText(where.text, self._bar, words, float(element.get("x", 0)) / UNITS_PER_SPACE))

    def _shape(self, tag: str, element: ET.Element) -> Shape | None:
        if tag == "use":
            return self._glyph(element)
        if tag in ("path", "polygon", "polyline"):
            return _stroked(tag, element)
        if tag in ("ellipse", "circle"):
            x, y = _numbers(element.get("cx")) + _numbers(element.get("cy"))
            rx = float(element.get("rx") or element.get("r") or 0)
            ry = float(element.get("ry") or rx)
            return Shape(f'<ellipse cx="{x}" cy="{y}" rx="{rx}" ry="{ry}"/>', _box(x - rx, y - ry, x + rx, y + ry))
        if tag == "rect":
            x, y, width, height = (float(element.get(name, 0)) for name in ("x", "y", "width", "height"))
            svg = f'<rect x="{x}" y="{y}" width="{width}" height="{height}"/>'
            return Shape(svg, _box(x, y, x + width, y + height))
        return None

    def _glyph(self, element: ET.Element) -> Shape:
        x, y, scale = _numbers(element.get("transform"))[:3]
        name = element.get(_HREF, "").removeprefix("#")
        box = glyph_box(self._face_name, name.partition("-")[0])
        # At verovio's normal scale of 0.72 a glyph's 250 units are one staff space of 180.
        size = scale / 0.72
        left, top = x / UNITS_PER_SPACE, y / UNITS_PER_SPACE
        return Shape(
            f'<path transform="translate({x},{y}) scale({scale},{-scale})" d="{self._outlines[name]}"/>',
            Box(left + box.left * size, top + box.top * size, left + box.right * size, top + box.bottom * size),
        )


def _stroked(tag: str, element: ET.Element) -> Shape:
    """A path or polygon with its stroke spelled out; control points of curves bound them."""
    attribute = "d" if tag == "path" else "points"
    outline = element.get(attribute, "")
    numbers = _numbers(outline)
    width = float(element.get("stroke-width") or 0)
    stroke = f' stroke="#fff" stroke-width="{width}"' if width else ""
    dashes = element.get("stroke-dasharray")
    stroke += f' stroke-dasharray="{dashes}"' if width and dashes else ""
    unfilled = element.get("fill") == "none" or (tag == "path" and len(numbers) == 4)
    fill = ' fill="none"' if unfilled else ""
    half = width / 2
    return Shape(
        f'<{tag} {attribute}="{outline}"{stroke}{fill}/>',
        _box(
            min(numbers[0::2]) - half,
            min(numbers[1::2]) - half,
            max(numbers[0::2]) + half,
            max(numbers[1::2]) + half,
        ),
    )


def _joined(group: ET.Element, within: str) -> tuple[HeadId, ...]:
    """The noteheads a beam or a tie holds together; none for any other group."""
    if within == "beam":
        return tuple(_heads_under(group))
    if within == "tie":
        ends = (head_of(group.get(f"data-{end}id", "").removeprefix("#")) for end in ("start", "end"))
        return tuple(end for end in ends if end)
    return ()


def _heads_under(group: ET.Element) -> Iterator[HeadId]:
    for element in group.iter(f"{_SVG}g"):
        head = head_of(element.get("id", "")) if element.get("class") == "note" else None
        if head:
            yield head


def _box(left: float, top: float, right: float, bottom: float) -> Box:
    return Box(left / UNITS_PER_SPACE, top / UNITS_PER_SPACE, right / UNITS_PER_SPACE, bottom / UNITS_PER_SPACE)


def _numbers(text: str | None) -> list[float]:
    return [float(number) for number in _NUMBERS.findall(text or "")]


def _child(element: ET.Element, tag: str) -> ET.Element:
    found = element.find(f"{_SVG}{tag}")
    if found is None:
        raise ValueError(f"the engraving has no <{tag}> where one was expected")
    return found
