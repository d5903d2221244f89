"""Today as it lies on the desk: its rows with their minutes, the aim of the sitting, what last time came to. Facts: how
they look is for the screens.
"""

from dataclasses import dataclass
from enum import Enum

from game.coach.plan.plan_steps import StepKind
from game.message import Message


class DayRowState(Enum):
    """How a row stands: its step was done or skipped, is the one that stands next, or lies ahead."""

    DONE = "done"
    SKIPPED = "skipped"
    NOW = "now"
    AHEAD = "ahead"


@dataclass(frozen=True, slots=True, kw_only=True)
class DayRow:
    """A row: what it is called, one quiet sentence, also in `shorter` ones, and its minutes: those spent where it is
    over, else those there are for it. `at` is the index of its step. `left_s` are the seconds left of a step that was
    begun and is not over.
    """

    at: int
    kind: StepKind
    title: Message
    quiet: Message
    minutes: int
    state: DayRowState
    left_s: float | None = None
    shorter: tuple[Message, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class AimAnswer:
    """What became of the aim of the sitting, in one sentence."""

    reached: bool
    said: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class LastTime:
    """What the last sitting came to: when it was (counted from any fixed day), one fact, and one consequence where
    there is one.
    """

    day: int
    heading: Message
    fact: Message
    consequence: Message | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class UnseenLine:
    """The folder of unseen lines: `planned` is one of today that was not turned yet; more may be taken whenever enough
    notes are met (`ready`). `said` is its one sentence.
    """

    ready: bool
    planned: bool
    said: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class FluentNote:
    """What is said of a map that is fluent, with a next one to be chosen: its name, and why it is."""

    map_name: str
    reason: Message


@dataclass(frozen=True, slots=True, kw_only=True)
class DayFacts:
    """All of it. `minutes` are those chosen for the day. `how_it_goes` are the sentences of a first day, none of any
    other; `last_time` is None where there was none, `aim` (as it is said) where there was none when the day began;
    `fluent` is None while no next map is to be proposed.
    """

    day: int
    first_day: bool
    minutes: int
    rows: tuple[DayRow, ...]
    aim: Message | None
    last_time: LastTime | None
    how_it_goes: tuple[Message, ...]
    unseen: UnseenLine
    fluent: FluentNote | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteGain:
    """A note that is surely quicker to find than in the weeks before: medians in seconds."""

    written: str
    string: int
    fret: int
    before_s: float
    now_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingEnd:
    """What stands on the last page of a sitting: minutes, takes and pages signed today; at most three quicker notes,
    or, where none surely is, how many notes were read; the notes new in ink, as written; the answer to the aim; and
    tomorrow in two lines at most, as rows of tomorrow's plan. `read` are the notes that were read today, as written,
    from the lowest on, `signed` the pages that were signed. On a first evening there is nothing that could have been
    quicker: it is not `compared`.
    """

    minutes: int
    takes: int
    pages_signed: int
    notes_read: int
    quicker: tuple[NoteGain, ...]
    new_ink: tuple[str, ...]
    aim: AimAnswer | None
    tomorrow: tuple[tuple[Message, Message], ...]
    read: tuple[str, ...] = ()
    signed: tuple[Message, ...] = ()
    compared: bool = True
