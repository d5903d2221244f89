"""A staff as large as its lowest and its highest note let it be. In units."""

from collections.abc import Iterable

from game.desk.kit.ink_staff import StaffRoom
from game.music.pitch import Pitch
from game.music.score import Reading


def fitted_staff(
    notes: Iterable[Pitch],
    reading: Reading,
    *,
    ends: tuple[float, float],
    between: tuple[float, float],
    most_space: float,
    air: tuple[float, float] = (2.0, 2.6),
) -> StaffRoom:
    """The staff from one of its `ends` to the other, for written notes in the height `between` two; `air` is what there
    is above and below the lines at least, in staff spaces.
    """
    clef, steps = reading.clef, [note.staff_step for note in notes] or [reading.clef.top_step]
    above = max(air[0], (max(steps) - clef.top_step) / 2 + 0.6 * air[0])
    below = max(air[1], (clef.bottom_step - min(steps)) / 2 + 0.4 * air[1])
    (top, bottom), spaces = between, above + 4 + below
    space = min(most_space, (bottom - top) / spaces)
    spare = bottom - top - spaces * space
    return StaffRoom(*ends, top + spare / 2 + above * space, space, reading)
