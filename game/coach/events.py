"""What the coach hears of: a passage laid on the stand, a take that was played, a wish of the player.

Replaying these in order gives the coach's state again; the practice log keeps them.
"""

from dataclasses import dataclass, field
from enum import Enum
from fractions import Fraction
from statistics import median

from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageFacts:
    """What the coach must know of a passage.

    `notes_per_beat` is its density and `usual_note_beats` its median note length, both in the metre's own
    beat and above 0. `target_bpm` is None when nobody set a target. `sign_off_bpm` is the tempo from which a take signs
    off, where that is faster than the target: the player's own, where a teacher set a slower one for these takes. Make
    it from note lengths with `facts_of`. Raises `ValueError` for a density, length or target of 0 or less.
    """

    name: str
    notes_per_beat: float = 1.0
    usual_note_beats: float = 1.0
    target_bpm: int | None = None
    sign_off_bpm: int | None = None

    def __post_init__(self) -> None:
        if self.notes_per_beat <= 0 or self.usual_note_beats <= 0:
            raise ValueError(f"passage {self.name!r} has no notes: choose other bars")
        if self.target_bpm is not None and self.target_bpm <= 0:
            raise ValueError(f"passage {self.name!r}: a target tempo of {self.target_bpm} is none")


def facts_of(
    name: str, *, lengths: tuple[Fraction, ...], beat_length: Fraction, target_bpm: int | None = None
) -> PassageFacts:
    """The facts of a passage from its note lengths and its beat, both in quarter notes.

    Raises `ValueError` for a passage without notes.
    """
    if not lengths or sum(lengths) <= 0 or beat_length <= 0:
        raise ValueError(f"passage {name!r} has no notes: choose other bars")
    beats = float(sum(lengths) / beat_length)
    return PassageFacts(
        name=name,
        notes_per_beat=len(lengths) / beats,
        usual_note_beats=float(median(lengths) / beat_length),
        target_bpm=target_bpm,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageOpened:
    """A passage was laid on the stand, on a day counted from any fixed one.

    `begin_at` is where a passage begins that was never played: letters are skipped unless asked for.
    """

    passage: PassageFacts
    day: int
    begin_at: Stage = Stage.PLACES


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeResult:
    """A judged take.

    `homes` are the notes that have a home, were read and heard surely; of these `clean` counts clean, early and late,
    `off_time` the early and late ones among them. In `rhythm` they count strokes. `tempo_bpm` is None without a
    metronome. `unread` notes lay behind the point where the take stopped, `unsure` ones were played and could not be
    told. `wrong_notes` are the numbers of the notes that were wrong or missed, `other_place_notes` of those that were
    right in another place. `find_times_s` are seconds, repeated notes and pauses left out. `sighting` counts from 1.
    `minute` is when of the player's day it was heard, counted from midnight, None where nobody knows. `told` are the
    marks that the coach said it earned, where it is heard again out of the log: by whatever rules, they stay. Neither
    makes it another take. Raises `ValueError` where the counts contradict each other.
    """

    passage: PassageFacts
    day: int
    stage: Stage
    homes: int
    clean: int
    tempo_bpm: float | None = None
    off_time: int = 0
    unread: int = 0
    unsure: int = 0
    stops: int = 0
    restarts: int = 0
    wrong_notes: frozenset[int] = field(default_factory=frozenset)
    other_place_notes: frozenset[int] = field(default_factory=frozenset)
    find_times_s: tuple[float, ...] = ()
    sighting: int = 1
    heard: bool = False
    known_by_ear: bool = False
    self_marked: bool = False
    settling: bool = False
    minute: int | None = field(default=None, compare=False)
    told: tuple[Mark, ...] = field(default=(), compare=False)

    def __post_init__(self) -> None:
        counts = (self.homes, self.clean, self.off_time, self.unread, self.unsure, self.stops, self.restarts)
        if min(counts) < 0 or self.right > self.homes or self.off_time > self.clean:
            raise ValueError(f"a take of {self.passage.name!r} whose counts do not add up: {counts}")
        if self.tempo_bpm is not None and self.tempo_bpm <= 0:
            raise ValueError(f"a take of {self.passage.name!r} at {self.tempo_bpm} beats a minute")

    @property
    def pulse(self) -> Pulse:
        """Who kept the beat."""
        return Pulse.FREE if self.tempo_bpm is None else Pulse.METRONOME

    @property
    def right(self) -> int:
        """Right pitches, wherever they were taken: what moves the tempo."""
        return self.clean + len(self.other_place_notes)

    @property
    def kept_going(self) -> bool:
        """Whether the take went from start to end without a stop."""
        return not (self.stops or self.restarts or self.unread)

    @property
    def on_time_share(self) -> float:
        """Of the clean notes, the share neither early nor late; 1 where there is none to tell by."""
        return 1 - self.off_time / self.clean if self.clean else 1.0

    @property
    def in_time(self) -> int:
        """Notes right and inside the tolerance."""
        return self.clean - self.off_time

    def is_false_start(self, least_notes: int) -> bool:
        """Whether it was left before so many notes were read, and before the middle: it then tells nothing."""
        return self.homes < min(least_notes, self.unread) or not self.homes

    def share(self, count: int) -> float:
        """A count as a share of the notes read; 0 when nothing was."""
        return count / self.homes if self.homes else 0.0


class Wish(Enum):
    """What the player may say at any moment."""

    METRONOME_NOW = "metronome now"
    NO_METRONOME = "no metronome"
    SLOWER = "slower"
    FASTER = "faster"
    ANOTHER_PASSAGE = "another passage"


@dataclass(frozen=True, slots=True, kw_only=True)
class Overruled:
    """The player overruled the coach in a passage. `tempo_bpm` goes with "metronome now" when they named a
    tempo.
    """

    passage: PassageFacts
    day: int
    wish: Wish
    tempo_bpm: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageRenamed:
    """The file of a passage was read anew: the passage called `was` goes on as the one called `is_now`."""

    was: str
    is_now: str


@dataclass(frozen=True, slots=True)
class PagePlayed:
    """A page was played within a clean take of its whole tune: the take, as far as it is of that page."""

    result: TakeResult


@dataclass(frozen=True, slots=True, kw_only=True)
class FormerPage:
    """Notes `first` to `last` of a page stood on the page `name`, where each had a number higher by `shift`. Raises
    `ValueError` for notes that no page has.
    """

    name: str
    first: int
    last: int
    shift: int = 0

    def __post_init__(self) -> None:
        if not 1 <= self.first <= self.last or self.first + self.shift < 1:
            raise ValueError(f"no page has the notes {self.first} to {self.last}, {self.shift} further on")


@dataclass(frozen=True, slots=True, kw_only=True)
class PageCutAnew:
    """A tune is cut into pages otherwise than before: where the notes of the page called `is_now` stood, at first the
    page that most of them stood on.
    """

    is_now: str
    former: tuple[FormerPage, ...]


Event = PassageOpened | TakeResult | Overruled
"""What the coach answers with a decision."""

Happening = Event | PassageRenamed | PageCutAnew | PagePlayed
"""All that makes the coach's state."""
