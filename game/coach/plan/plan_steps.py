"""What today's plan is made of: its steps, and what it is made from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from game.coach.marks import Mark
from game.coach.notes.items import ItemKey, Items
from game.coach.numbers import NUMBERS
from game.coach.stages import Stage
from game.message import Message
from game.music.keys import Key
from game.music.names import NoteNames
from game.music.tune_kind import TuneKind
from game.neck.neck_map import NeckMap


class StepKind(Enum):
    """What a step of the plan is."""

    FIVE_NOTES = "five notes"
    WARM_UP = "warm-up"
    FIRST_SIGHT = "first sight"
    SLOW_NOTES = "slow notes"
    PASSAGE = "passage"
    COURSE = "course"
    NEW_TUNE = "new tune"
    HEARD_WHOLE = "heard whole"
    SIGNED_OFF = "signed off"
    FREE_READING = "free reading"
    REST = "rest"


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedLine:
    """A fresh line to be made: its level, its key, and how often each sounding pitch should come up (1 is usual; none
    named: all alike). `notes` are the items it is for, the first most of all. With `single_notes` it is no melody
    but notes one by one, those that have a weight: so come notes that melodies seldom come by. A melody has none of
    weight 0. `new` are the notes, as
    written, that are met for the first time today.
    """

    level: int
    key: Key | None = None
    weights: Mapping[int, float] = field(default_factory=dict)
    notes: tuple[ItemKey, ...] = ()
    single_notes: bool = False
    new: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MapInPlan:
    """A map of the player, and what it is called for them."""

    neck_map: NeckMap
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanStep:
    """One step: so many whole minutes, and why, in one plain sentence, as a key of the text catalogue.

    At most one of `line`, `passage` (its name, as in `PassageFacts`) and `tune` (its name in the library) says what is
    played; a rest has none, nor a stage. `whole` plays all of the tune that the passage is of. `five_notes` are the
    written notes of a first day. `maps` are those it is read on by turns, none where it is the player's own, as always
    while maps are not mixed.
    """

    kind: StepKind
    minutes: int
    reason: tuple[Message, ...]
    stage: Stage | None = None
    line: PlannedLine | None = None
    passage: str | None = None
    tune: str | None = None
    whole: bool = False
    five_notes: tuple[str, ...] = ()
    maps: tuple[MapInPlan, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageStanding:
    """How a passage stands: what the plan must know of it.

    `title` is the name of its `tune` with the bars, for the player; `place` is which of the tune's passages it is, from
    0. `stage` is what comes next, `tempo_bpm` the tempo it is steady at or was last played at, None before any
    metronome. `last_day` is when it was practised last, None for bars not begun yet of a tune that is. `half_day` is
    the day of the newest half of a sign-off, None without one. `rhythm_kept` tells whether its rhythm alone was
    kept with the metronome, `rhythm_first` whether it comes next though the notes are not sure yet. `short` has too few
    notes to be signed off.
    """

    name: str
    title: Message
    tune: str = ""
    place: int = 0
    stage: Stage = Stage.PLACES
    marks: tuple[Mark, ...] = ()
    tempo_bpm: int | None = None
    target_bpm: int | None = None
    last_day: int | None = 0
    half_day: int | None = None
    rhythm_kept: bool = False
    rhythm_first: bool = False
    short: bool = False
    takes_today: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class UnseenTune:
    """A tune of the library that was never played or heard. `difficulty` is on the scale of the levels of lines;
    `own` is the player's, from elsewhere. `unmet` counts its pitches that were never met, `stretches` those of them
    that cost a stretch. A study stands `beside` the tune of that name.
    """

    name: str
    title: str
    difficulty: float
    own: bool = False
    unmet: int = 0
    stretches: int = 0
    kind: TuneKind = TuneKind.SONG
    beside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BegunTune:
    """A tune of which bars were practised."""

    name: str
    kind: TuneKind = TuneKind.SONG


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstTune:
    """The tune a beginner begins with, and the notes of its first bars, as written and as they sound."""

    name: str
    title: str
    notes: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseToday:
    """What a course asks today: the passage that comes next, and the stage of this time through."""

    title: str
    passage: str
    tune: str
    stage: Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """What the plan is made from. `day` counts from any fixed one.

    `passages` are those of tunes that were begun: what was practised last comes last, bars not begun yet come in the
    order of their tune. `level` is that of the player's fresh lines. `due_notes` and `due_passages` are those whose
    review is due, the least remembered first. `done` are the minutes spent today on each kind of step, `minutes` those
    that are left; `skipped` is what was skipped today, by kind and by the passage or tune, `ended` are the
    kinds of which a step was ended. `names` is how the player
    calls the notes. `first_day` is that of somebody who has read nothing before and begins at the beginning; `met`
    counts the pitches met so far, `known` are those of somebody who begins, for whom lines are made of them alone, and
    None for everybody else; `met_today` are those never met before today. `own_tunes` are those of the player's own on
    the shelf. `first_tune` is None once it was met, or where the map does not reach it. `begun` are the tunes that were
    begun, in the order in which they were met, `evening` is the how-manieth day of practice this is, from 1.
    `own_map` is what the player calls the map, `fluent` whether it is; `fluent_maps` are their other maps that are.
    `tells_places` is whether their instrument tells where on the neck a note is played.
    Raises `ValueError` for minutes outside of 5 to 90.
    """

    day: int
    neck_map: NeckMap
    level: int
    minutes: int = NUMBERS.plan_minutes
    items: Items = field(default_factory=dict)
    due_notes: tuple[ItemKey, ...] = ()
    due_passages: tuple[str, ...] = ()
    passages: tuple[PassageStanding, ...] = ()
    unseen: tuple[UnseenTune, ...] = ()
    done: Mapping[StepKind, float] = field(default_factory=dict)
    names: NoteNames = NoteNames.ENGLISH
    skipped: frozenset[tuple[StepKind, str | None]] = frozenset()
    ended: frozenset[StepKind] = frozenset()
    first_day: bool = False
    first_tune: FirstTune | None = None
    met: int = NUMBERS.sight_after_met
    known: frozenset[int] | None = None
    met_today: frozenset[int] = frozenset()
    own_tunes: frozenset[str] = frozenset()
    course: CourseToday | None = None
    begun: tuple[BegunTune, ...] = ()
    evening: int = 1
    own_map: str = ""
    fluent: bool = False
    fluent_maps: tuple[MapInPlan, ...] = ()
    tells_places: bool = False

    def __post_init__(self) -> None:
        if not NUMBERS.plan_fewest <= self.minutes <= NUMBERS.plan_most:
            raise ValueError(
                f"a plan of {self.minutes} minutes cannot be made: choose {NUMBERS.plan_fewest} to {NUMBERS.plan_most}"
            )
