"""The rhythm levels of fresh lines, named by what they hold. The figures are ours, from teachers' practice.

A cell is a word, a letter for each note or rest:

    w whole   D dotted half   h half   d dotted quarter   q quarter   e eighth   t a beat of three triplet eighths
    R half rest   r quarter rest   s eighth rest
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from game.errors import TuneError
from game.message import Message, message
from game.music.meter import Meter

# Ticks in a quarter note: eighths are 6, triplet eighths 4.
QUARTER = 12
EIGHTH = 6
_TICKS = {"w": 48, "D": 36, "h": 24, "d": 18, "q": 12, "e": 6, "t": 4, "R": 24, "r": 12, "s": 6}
_RESTS = "Rrs"
METERS = (Meter(2, 4), Meter(3, 4), Meter(4, 4), Meter(2, 2), Meter(6, 8), Meter(9, 8), Meter(12, 8))
CHANGES_METERS = (Meter(4, 4), Meter(3, 4))


@dataclass(frozen=True, slots=True)
class Beat:
    """One note or rest of a cell: its length in ticks, and its place (0 to 2) in a triplet, None outside one."""

    ticks: int
    rest: bool = False
    triplet: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Rhythm:
    """One rhythm level: how likely each cell is, for two beats, for one, and for a dotted beat. `early` is the share
    of places where a note may come an eighth before its beat and be tied over.
    """

    number: int
    name: str
    halves: Mapping[str, float]
    quarters: Mapping[str, float]
    dotted: Mapping[str, float]
    early: float = 0.0

    @property
    def told(self) -> Message:
        """What people call it."""
        return message(f"rhythm_level.{self.number}")


_BEATS = {"qq": 4.0, "h": 2.0, "qr": 0.5, "rq": 0.4}
_HALVES = {**_BEATS, "qq": 3.0, "h": 1.5, "eeq": 2.5, "qee": 2.5, "eeee": 1.5}
_QUARTERS = {"q": 3.0, "ee": 2.0}
_DOTTED = {"d": 2.0, "qe": 3.0, "eee": 3.0}
_WITH_DOTS = {**_HALVES, "de": 4.0}
_WITH_RESTS = {**_WITH_DOTS, "seq": 1.5, "seee": 1.5, "qse": 1.0, "ree": 0.5}
_DOTTED_RESTS = {**_DOTTED, "see": 1.5, "qs": 1.0}
_SYNCOPATED = {**_WITH_RESTS, "eqe": 4.0, "ed": 2.0}

RHYTHMS = (
    Rhythm(number=1, name="whole beats", halves=_BEATS, quarters={"q": 1.0}, dotted={"d": 2.0, "eee": 1.0}),
    Rhythm(number=2, name="pairs of eighths", halves=_HALVES, quarters=_QUARTERS, dotted=_DOTTED),
    Rhythm(number=3, name="dotted quarters", halves=_WITH_DOTS, quarters=_QUARTERS, dotted=_DOTTED),
    Rhythm(
        number=4,
        name="eighth rests and off-beats",
        halves=_WITH_RESTS,
        quarters={**_QUARTERS, "se": 1.0},
        dotted=_DOTTED_RESTS,
    ),
    Rhythm(
        number=5,
        name="ties and syncopation",
        halves=_SYNCOPATED,
        quarters={**_QUARTERS, "se": 1.0},
        dotted={**_DOTTED_RESTS, "eq": 2.5},
        early=0.3,
    ),
    Rhythm(
        number=6,
        name="triplets",
        halves={**_SYNCOPATED, "tq": 4.0, "qt": 3.0, "tee": 0.4, "eet": 0.3},
        quarters={**_QUARTERS, "se": 1.0, "t": 2.0},
        dotted={},
        early=0.3,
    ),
)

# How phrases end, by the ticks of a bar: on the way, and at the very end. The last note rests on a strong beat.
BREATHS = {
    24: ("h", "qr"),
    36: ("D", "hr", "qh", "qqr"),
    48: ("hh", "Dr", "hqr", "qqh", "qqqr", "w"),
    54: ("dD", "dqsd"),
    72: ("DD", "Ddqs", "eeedD"),
}
FINALS = {24: ("h",), 36: ("D", "qh"), 48: ("w", "qD", "hh", "qqh", "Dr"), 54: ("dD",), 72: ("DD", "eeedD")}
DOTTED_BREATHS = {36: ("D", "dqs", "eeed"), **{ticks: BREATHS[ticks] for ticks in (54, 72)}}
DOTTED_FINALS = {36: ("D", "eeed", "dd"), **{ticks: FINALS[ticks] for ticks in (54, 72)}}


@cache
def beats_of(word: str) -> tuple[Beat, ...]:
    """The notes and rests of a cell's word."""
    found: list[Beat] = []
    for letter in word:
        if letter == "t":
            found += [Beat(_TICKS[letter], triplet=place) for place in range(3)]
        else:
            found.append(Beat(_TICKS[letter], rest=letter in _RESTS))
    return tuple(found)


@cache
def cells_of_bar(meter: Meter) -> tuple[int, ...]:
    """The ticks of a bar's cells: two beats together where there are two, a dotted beat alone."""
    if meter.compound:
        return (18,) * (meter.beats // 3)
    halves, left = divmod(int(meter.bar_length), 2)
    return (24,) * halves + (12,) * left


def rhythm_of(number: int, meter: Meter) -> Rhythm:
    """The rhythm level of a number. Raises `TuneError` for another than 1 to 6, and for what a metre cannot hold."""
    if not 1 <= number <= len(RHYTHMS):
        raise TuneError(
            "lines.unknown_rhythm", number=number, first=RHYTHMS[0].told, highest=len(RHYTHMS), last=RHYTHMS[-1].told
        )
    rhythm = RHYTHMS[number - 1]
    if meter.compound and not rhythm.dotted:
        raise TuneError("lines.no_triplets", metre=meter.text, highest=number - 1)
    return rhythm


def meter_named(text: str) -> Meter:
    """The metre written "3/4". Raises `TuneError` for one that lines are not made in."""
    for meter in METERS:
        if meter.text == text:
            return meter
    raise TuneError("lines.unknown_metre", given=text, choices=tuple(meter.text for meter in METERS))


def usual_rhythm(number: int, meter: Meter) -> Rhythm:
    """The rhythm level of a number, or the nearest below that the metre can hold."""
    while meter.compound and not RHYTHMS[number - 1].dotted:
        number -= 1
    return rhythm_of(number, meter)
