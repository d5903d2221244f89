"""Colours of paper, ink and pencil, by day and by night."""

from dataclasses import dataclass

Colour = tuple[int, int, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Theme:
    """`desk` lies around the `paper`. `ink` prints, `read` is what was read clean; `pencil` writes, `accent` is the
    one strong colour. Shape and place always say first what a colour says again.
    """

    desk: Colour
    edge: Colour
    paper: Colour
    ink: Colour
    faded: Colour
    read: Colour
    pencil: Colour
    accent: Colour


PAPER = Theme(
    desk=(206, 191, 161),
    edge=(208, 198, 175),
    paper=(250, 244, 231),
    ink=(32, 29, 26),
    faded=(117, 108, 93),
    read=(30, 66, 132),
    pencil=(104, 99, 92),
    accent=(176, 67, 40),
)

NIGHT = Theme(
    desk=(26, 24, 22),
    edge=(46, 45, 43),
    paper=(36, 35, 33),
    ink=(226, 219, 203),
    faded=(150, 143, 130),
    read=(122, 172, 226),
    pencil=(166, 160, 150),
    accent=(228, 124, 92),
)
