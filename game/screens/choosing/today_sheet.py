"""What Today shows, in words: made when it is known, kept for the first frame of the next start, and only drawn."""

from enum import Enum, auto

import msgspec

from game.screens.ink_drawing import InkSheet


class RowState(Enum):
    """How a step of the plan stands."""

    AHEAD = auto()
    BEGUN = auto()
    DONE = auto()
    SKIPPED = auto()


class TodayRow(msgspec.Struct, frozen=True, kw_only=True):
    """A step of the plan: its title, which may be cut, and the bars, which may not, a line below, `shorter` ones for
    where that has no room, the longest first, its minutes, and what the corner says while it is chosen. `advice` stands
    at the foot then. Behind the steps stand assignments, with the id of each as `assignment`; `late` where one is
    overdue.
    """

    title: str
    bars: str = ""
    below: str
    minutes: str
    corner: str
    advice: str = ""
    state: RowState = RowState.AHEAD
    shorter: tuple[str, ...] = ()
    assignment: str = ""
    late: bool = False


class TodaySheet(msgspec.Struct, frozen=True, kw_only=True):
    """All of Today. `day` is told in as many ways as there are lengths, the longest first. `standing` is the row that
    comes next, their number where all is done. `unseen` are the words on the slip that lies face down, None for none;
    `remark` stands at the foot: last time, or how it goes; `plan_note` where there are no rows. `next_map` is whether
    there is a next map to be chosen: then the remark says which one is fluent.
    """

    day: tuple[str, ...]
    minutes: str
    aim: str = ""
    rows: tuple[TodayRow, ...] = ()
    standing: int = 0
    plan_note: str = ""
    remark_title: str = ""
    remark: tuple[str, ...] = ()
    consequence: str = ""
    unseen: tuple[str, str] | None = None
    next_map: bool = False
    ink: InkSheet | None = None
