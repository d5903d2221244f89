"""What the coach remembers: a record for each passage, and the passage on the stand."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from operator import attrgetter

from game.coach.climb import ClimbTake
from game.coach.decisions import Decision
from game.coach.events import PassageFacts
from game.coach.marks import Mark, SignOff
from game.coach.notes.review import Review, due
from game.coach.stages import Pulse, Stage
from game.coach.tempo.belief import Belief


@dataclass(frozen=True, slots=True)
class Tally:
    """Right answers of so many asked."""

    right: float = 0.0
    asked: float = 0.0

    def plus(self, right: float, asked: float) -> "Tally":
        """Both added up."""
        return Tally(self.right + right, self.asked + asked)


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageRecord:
    """All that decides about one passage.

    `read` and `find_times_s` come from what was truly read (`game.coach.sightings`). `first_bpm` is the first
    tempo earned. `recent` are the last timed takes, the newest last; `last_bpm` the tempo of the newest;
    `held_bpm` that of the fastest clean one; `own_pace_bpm` the player's own in free time. `rhythm_bpm` is where the
    rhythm goes on after a take that failed. The counters count takes in a row: `tries` at this stage without passing,
    `stopped` with a stop, `out_of_time` short of time; `fell_back` how often the metronome was given up.
    `false_starts` are those of the day, which are no takes of it. `practised_day` is that of the last take but one at
    first sight, None where there was none: to be laid on the stand, or met once, is not to be practised. `review`
    tells when it should come back once it is signed off. `climb` are the last takes at each tempo, oldest first,
    `kept_bpms` the tempi kept in clean takes, rising, and `wished_bpm` the one the player asked for today that is not.
    `marks_by_word` are those of the marks that rest on the player's own word: they stay pencil until a take that was
    heard earns them too. `places_last` is how the last take without a clock came out, pitch only; `rhythm_day` when the
    rhythm alone was kept with the metronome, None where it was not. `read_day` is when the bars were right at their
    first or second sighting, None where they were not: it is a mark beside the others, for what practice makes playable
    was not therefore read.
    """

    facts: PassageFacts
    stage: Stage = Stage.PLACES
    pulse: Pulse = Pulse.FREE
    day: int = 0
    takes_today: int = 0
    practised_day: int | None = None
    false_starts: int = 0
    read: Tally = Tally()
    find_times_s: tuple[float, ...] = ()
    first_bpm: int | None = None
    belief: Belief | None = None
    recent: tuple[Tally, ...] = ()
    last_bpm: int | None = None
    held_bpm: int | None = None
    own_pace_bpm: int | None = None
    rhythm_bpm: int | None = None
    tries: int = 0
    fell_back: int = 0
    stopped: int = 0
    out_of_time: int = 0
    marks: tuple[Mark, ...] = ()
    sign_offs: tuple[SignOff, ...] = ()
    wrong_last: frozenset[int] = frozenset()
    review: Review | None = None
    climb: tuple[ClimbTake, ...] = ()
    kept_bpms: tuple[int, ...] = ()
    wished_bpm: int | None = None
    read_day: int | None = None
    marks_by_word: tuple[Mark, ...] = ()
    places_last: Tally = Tally()
    rhythm_day: int | None = None

    def changed(self, **changes: object) -> "PassageRecord":
        """The record with some fields otherwise, as `dataclasses.replace` makes it, many times as fast: years of takes
        change one each.
        """
        new = object.__new__(PassageRecord)
        for put, value in zip(_PUT.values(), _all_of(self), strict=True):
            put(new, value)
        for name, value in changes.items():
            _PUT[name](new, value)
        return new

    def on_new_day(self, day: int, **changes: object) -> "PassageRecord":
        """The record with nothing played yet on `day`, and some fields otherwise."""
        return self.changed(day=day, takes_today=0, false_starts=0, tries=0, wished_bpm=None, **changes)

    @property
    def climbing(self) -> bool:
        """Whether this passage is played in time with the metronome."""
        return self.stage is Stage.TIME and self.pulse is Pulse.METRONOME


_PUT = {name: getattr(PassageRecord, name).__set__ for name in PassageRecord.__slots__}
_all_of = attrgetter(*PassageRecord.__slots__)


@dataclass(frozen=True, slots=True, kw_only=True)
class CoachState:
    """Everything the coach knows. Begin with `CoachState()`.

    `records` go by the name of the passage, in the order in which the passages came last. `wish` is what "slower" and
    "faster" left behind, in log tempo.
    `decision` is the last one made, None before the first. `renamed` are passages whose file was read anew, with
    what they are called now.
    """

    records: Mapping[str, PassageRecord] = field(default_factory=dict)
    wish: float = 0.0
    decision: Decision | None = None
    renamed: Mapping[str, str] = field(default_factory=dict)


def due_passages(state: CoachState, day: int) -> tuple[str, ...]:
    """The signed-off passages that should come back by `day`, the least remembered first."""
    return due({name: record.review for name, record in state.records.items() if record.review is not None}, day)
