"""What an engraved page is made of: shapes with boxes, in staff spaces, and the systems they stand in. Pure.

x grows to the right and y downwards, both from the top left corner of the engraving, as in SVG.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import Enum, auto

from game.music.clef import Clef
from game.music.written import HeadId

STAFF_HEIGHT_SPACES = 4.0


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in staff spaces; `right` and `bottom` are where it ends."""

    left: float
    top: float
    right: float
    bottom: float

    def moved(self, right: float, down: float) -> "Box":
        """The same box elsewhere."""
        return Box(self.left + right, self.top + down, self.right + right, self.bottom + down)

    def union(self, other: "Box") -> "Box":
        """The least box around both."""
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )


@dataclass(frozen=True, slots=True)
class Shape:
    """One drawn element: `svg` is in verovio's units and has no colour of its own, `box` in staff spaces."""

    svg: str
    box: Box


@dataclass(frozen=True, slots=True)
class Join:
    """A beam or a tie: shapes that belong to several noteheads together."""

    heads: tuple[HeadId, ...]
    shapes: tuple[Shape, ...]


class TextKind(Enum):
    """What a text on the page is, which decides how it is lettered."""

    CHORD = auto()
    WORDS = auto()
    ENDING = auto()
    BAR_NUMBER = auto()
    SECTION = auto()
    POSITION = auto()


@dataclass(frozen=True, slots=True)
class TextExtent:
    """The room a text takes, in staff spaces: its width, how far it rises above its baseline and drops below."""

    width: float
    rise: float
    drop: float


@dataclass(frozen=True, slots=True)
class Text:
    """A text to be lettered with its baseline at `baseline` and its left end at `x`, in staff spaces.

    `ends_at_x` puts its right end there instead; `extent` is the room it takes.
    """

    kind: TextKind
    text: str
    x: float
    baseline: float
    extent: TextExtent
    ends_at_x: bool = False

    @property
    def box(self) -> Box:
        """Where the letters stand."""
        left = self.x - self.extent.width if self.ends_at_x else self.x
        top, bottom = self.baseline - self.extent.rise, self.baseline + self.extent.drop
        return Box(left, top, left + self.extent.width, bottom)


@dataclass(slots=True)
class System:
    """One line of music, in `clef`.

    `top_line` is the y of the top staff line, `left` and `right` the ends of the staff. `opening` is the
    clef, key and metre at its left, `ground` all other print that is never coloured, `groups` the head, stem,
    flag, accidental and dots of each note, `head_boxes` the noteheads alone. `bar_ends` are the x of the bar
    lines, `bars` the indices of the bars.
    """

    top_line: float = 0.0
    left: float = 0.0
    right: float = 0.0
    bars: list[int] = field(default_factory=list)
    bar_ends: list[float] = field(default_factory=list)
    opening: list[Shape] = field(default_factory=list)
    ground: list[Shape] = field(default_factory=list)
    groups: dict[HeadId, list[Shape]] = field(default_factory=dict)
    head_boxes: dict[HeadId, Box] = field(default_factory=dict)
    joins: list[Join] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)
    clef: Clef = Clef.TREBLE

    def box_of(self, head: HeadId) -> Box:
        """The box around everything that belongs to one note alone."""
        return bounding_box(shape.box for shape in self.groups[head])

    @property
    def extent(self) -> Box:
        """The box around all print, texts and the five lines included."""
        staff = Box(self.left, self.top_line, self.right, self.top_line + STAFF_HEIGHT_SPACES)
        return bounding_box((staff, *boxes_of(self), *(text.box for text in self.texts)))

    def step_y(self, staff_step: int) -> float:
        """The y of a line or space, ledger lines included; `staff_step` as `Pitch.staff_step` counts it."""
        return self.top_line + (self.clef.top_step - staff_step) / 2

    @property
    def bottom_line(self) -> float:
        """The y of the lowest line of the staff."""
        return self.top_line + STAFF_HEIGHT_SPACES


@dataclass(frozen=True, slots=True)
class Opening:
    """Clef, key and metre in force from `from_x` of the line on, with a staff of their own to stand on."""

    from_x: float
    left: float
    top_line: float
    width: float
    shapes: tuple[Shape, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Engraving:
    """Everything drawn for some bars.

    On one endless line `positions` pairs onsets, in quarter notes from the start of the first bar, with x in
    staff spaces: the noteheads' centres and the final bar line, rising in both; `openings` are the signatures
    to be kept at the left edge. On a page both are empty.
    """

    systems: tuple[System, ...]
    positions: tuple[tuple[float, float], ...] = ()
    openings: tuple[Opening, ...] = ()


def bounding_box(boxes: Iterable[Box]) -> Box:
    """The least box around one or more boxes."""
    first, *rest = boxes
    for box in rest:
        first = first.union(box)
    return first


def boxes_of(system: System) -> Iterable[Box]:
    """The boxes of all shapes of a system, its texts left out."""
    yield from (shape.box for shape in system.opening)
    yield from (shape.box for shape in system.ground)
    yield from (shape.box for shapes in system.groups.values() for shape in shapes)
    yield from (shape.box for join in system.joins for shape in join.shapes)
