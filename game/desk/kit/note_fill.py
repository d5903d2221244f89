"""How far a note has come, as fill: ink is known, pencil is in work, empty is not met."""

from dataclasses import dataclass
from enum import Enum, auto

from game.desk.kit.canvas import Canvas, blend
from game.desk.theme import Colour


class Fill(Enum):
    """How a head or a place is filled. `DUE` is ink with a pencil ring: it should be looked at again; `PRINT` is black,
    as music is printed.
    """

    EMPTY = auto()
    PENCIL = auto()
    INK = auto()
    DUE = auto()
    PRINT = auto()

    @property
    def inked(self) -> bool:
        """Whether it is filled with ink."""
        return self in (Fill.INK, Fill.DUE)


@dataclass(frozen=True, slots=True)
class FilledNote:
    """A written note ("F#4"). `ringed` has a ring of red pencil: it is new, or meant."""

    written: str
    fill: Fill
    ringed: bool = False


@dataclass(frozen=True, slots=True)
class FilledPlace:
    """A place on the neck, string 1 the highest, with the letters in it, none where it is not met."""

    string: int
    fret: int
    fill: Fill
    letters: str = ""
    ringed: bool = False


def fill_colour(canvas: Canvas, fill: Fill) -> Colour:
    """The colour of a head. What is not met is there, but faint."""
    theme = canvas.theme
    return {
        Fill.EMPTY: empty_colour(canvas),
        Fill.PENCIL: theme.pencil,
        Fill.INK: theme.read,
        Fill.DUE: theme.read,
        Fill.PRINT: theme.ink,
    }[fill]


def empty_colour(canvas: Canvas) -> Colour:
    """The line around what is not met: light, and to be made out still, three times as dark as the paper or as light
    (WCAG 2.2, 1.4.11).
    """
    return blend(canvas.theme.paper, canvas.theme.pencil, 0.74)


def hair_colour(canvas: Canvas) -> Colour:
    """Faint pencil: what divides a sheet."""
    return blend(canvas.theme.paper, canvas.theme.pencil, 0.45)
