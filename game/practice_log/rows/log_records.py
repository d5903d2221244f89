"""What goes into the log and comes out again.

Times of the clock on the wall are UTC and know it (`datetime` with a time zone). Times inside a take count from its
time 0: the start of an untimed take, onset 0 of the passage in a timed one.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import Enum
from fractions import Fraction

from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.note_sources import PlayedOn
from game.judging.expected import ExpectedNote
from game.judging.letters import NamedNote
from game.judging.tolerance import BarSpan
from game.judging.untimed import HintStep
from game.judging.verdicts import Judgement
from game.music.names import Spelling
from game.neck.neck_map import NeckMap
from game.practice_log.database.identity import Identity


class Outcome(Enum):
    """How a take ended: at its last note, by the player's will, or because the program was stopped under it."""

    FINISHED = "finished"
    BROKEN_OFF = "broken off"
    CUT_SHORT = "cut short"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bars:
    """Which music. `passage_key` tells the bars by their content, `first` and `last` are their numbers as
    printed, `start` and `stop` their indices in the written-out tune, `stop` not included.
    """

    title: str
    passage_key: str
    first: str
    last: str
    start: int
    stop: int


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentUsed:
    """What the notes came from: the name of the device, and what it is."""

    name: str
    kind: PlayedOn


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What was asked and how it is judged.

    `tempo_bpm` is in the metre's own beat of `beat_length` quarter notes, None in free time. `swing` is long:short.
    `waits` and `wants_home` are the rules of untimed takes, `pitch_counts` and `window_ms` of timed ones; a
    `window_ms` of None is the usual tolerance, which follows from tempo and rhythm. `settling` is the day's last take
    of a passage; `self_marked` takes are judged by the player's own word.
    """

    stage: Stage
    pulse: Pulse = Pulse.FREE
    tempo_bpm: float | None = None
    beat_length: Fraction = Fraction(1)
    swing: float = 1.0
    waits: bool = True
    wants_home: bool = False
    pitch_counts: bool = True
    window_ms: float | None = None
    settling: bool = False
    self_marked: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sighting:
    """How often the player had met these bars, this take included (from 1), whether they had heard them, and whether
    they know the tune by ear (None: not asked).
    """

    nth: int = 1
    heard: bool = False
    known_by_ear: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The notes of a passage with their homes, its bars as the clock sees them, and the sounding pitches of the grace
    notes before a note, by its number: all that judging needs of the music.
    """

    notes: tuple[ExpectedNote, ...]
    spans: tuple[BarSpan, ...] = ()
    graces: Mapping[int, tuple[int, ...]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeBegun:
    """A take as it begins. `tune` is what the tune of its bars is called where it is said that it is known by ear; None
    in an old log.
    """

    started_at: datetime
    player: Identity
    bars: Bars
    terms: Terms
    asked: Asked
    neck_map: NeckMap
    instrument: InstrumentUsed
    sighting: Sighting = Sighting()
    tune: str | None = None

    @property
    def free_on(self) -> NeckMap | None:
        """The map of a take in free reading, None of any other: there notes are asked without the homes that their map
        has for them. So whoever counts homes, an older program too, counts none.
        """
        notes = self.asked.notes
        if any(note.home is not None for note in notes):
            return None
        return self.neck_map if any(self.neck_map.home_of(note.sounding) for note in notes) else None


@dataclass(frozen=True, slots=True, kw_only=True)
class HelpGiven:
    """Help with note `n`, up to a step, `at_s` seconds into the take."""

    n: int
    step: HintStep
    at_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NameGiven:
    """A name given for note `n`, `at_s` seconds into the take. `name` is None where it was said aloud: then
    `said_right` is the player's own word on it.
    """

    n: int
    name: Spelling | None
    at_s: float
    said_right: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeEnded:
    """A take judged as a whole, by a version of the judge: `judgement`, or in `letters` the notes `named`.

    Of `named`, the names themselves are kept as they were given (`NameGiven`), not here.
    """

    ended_at: datetime
    outcome: Outcome
    judge: int
    judgement: Judgement | None = None
    named: tuple[NamedNote, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class LoggedTake:
    """A take out of the log. `take` is its number there, `day` the player's day on which it began; the last three are
    None while it has no judgement.
    """

    take: int
    day: date
    begun: TakeBegun
    outcome: Outcome | None
    judge: int | None
    ended_at: datetime | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RawTake:
    """What was done in a take, as it came. Played notes count from the take's time 0, to the microsecond."""

    played: tuple[PlayedNote, ...]
    helped: tuple[HelpGiven, ...] = ()
    names: tuple[NameGiven, ...] = ()
