"""The rhythm levels of fresh lines, named by what they hold, and the cells that are within each.

A cell is what begins within two beats, a dotted beat, or a bar of 3/4: its onsets in twelfths of a quarter note.
"""

from dataclasses import dataclass
from functools import cache

from game.errors import TuneError
from game.message import Message, message
from game.music.meter import Meter

# Ticks in a quarter note: eighths are 6, triplet eighths 4.
QUARTER = 12
EIGHTH = 6
HALF, DOTTED_QUARTER = 24, 18
METERS = (Meter(2, 4), Meter(3, 4), Meter(4, 4), Meter(2, 2), Meter(6, 8), Meter(9, 8), Meter(12, 8))
CHANGES_METERS = (Meter(4, 4), Meter(3, 4))
_EIGHTHS, _DOTTED, _OFF_BEATS, HELD_OFF_BEATS, _TRIPLETS = 2, 3, 4, 5, 6
# In a dotted beat eighths are read from the first level on, three in a row.
_OF_DOTTED_BEAT = {(): 1, (0,): 1, (0, 6, 12): 1, (0, 12): 2, (12,): 4, (6, 12): 4, (0, 6): 5, (6,): 5}

Cell = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rhythm:
    """One rhythm level. It holds all that the levels below it hold."""

    number: int
    name: str

    @property
    def told(self) -> Message:
        """What people call it."""
        return message(f"rhythm_level.{self.number}")

    @property
    def has_rests(self) -> bool:
        """Whether an off-beat may be followed by a rest."""
        return self.number >= _OFF_BEATS

    @property
    def held_over(self) -> bool:
        """Whether a note off the beat may be held over the next."""
        return self.number >= HELD_OFF_BEATS

    @property
    def dotted(self) -> bool:
        """Whether it has dotted quarters."""
        return self.number >= _DOTTED


RHYTHMS = tuple(
    Rhythm(number=number, name=name)
    for number, name in enumerate(
        (
            "whole beats",
            "pairs of eighths",
            "dotted quarters",
            "eighth rests and off-beats",
            "ties and syncopation",
            "triplets",
        ),
        start=1,
    )
)


@cache
def cells_of_bar(meter: Meter) -> tuple[int, ...]:
    """The ticks of a bar's cells: two beats together where there are two, a dotted beat alone, three beats of 3/4."""
    if meter.compound:
        return (DOTTED_QUARTER,) * (meter.beats // 3)
    length = ticks_of(meter)
    return (length,) if length % HALF else (HALF,) * (length // HALF)


@cache
def ticks_of(meter: Meter) -> int:
    """The ticks of a full bar."""
    return int(meter.bar_length * QUARTER)


@cache
def level_of_cell(cell: Cell, ticks: int) -> int:
    """The number of the first rhythm level that holds a cell of so many ticks; 7 for one that none holds."""
    if ticks == DOTTED_QUARTER:
        return _OF_DOTTED_BEAT.get(cell, len(RHYTHMS) + 1)
    beats = [tuple(onset - start for onset in cell if start <= onset < start + QUARTER)
             for start in range(0, ticks, QUARTER)]  # fmt: skip
    return max(_level_of_beat(beats, at) for at in range(len(beats)))


def _level_of_beat(beats: list[Cell], at: int) -> int:
    beat = beats[at]
    if any(onset % EIGHTH for onset in beat):
        return _TRIPLETS if beat in ((0, 4, 8), (4, 8)) else len(RHYTHMS) + 1
    if EIGHTH not in beat:
        return 1
    following = at + 1 == len(beats) or 0 in beats[at + 1]
    if not following:
        return _OFF_BEATS
    if 0 in beat:
        return _EIGHTHS
    return _DOTTED if at and beats[at - 1] == (0,) else _OFF_BEATS


def leaves_off_beat(cell: Cell, ticks: int) -> bool:
    """Whether a cell ends on an off-beat eighth, which levels without rests lead on to the next beat."""
    return bool(cell) and cell[-1] == ticks - EIGHTH and ticks % QUARTER == 0


def rhythm_of(number: int, meter: Meter) -> Rhythm:
    """The rhythm level of a number. Raises `TuneError` for another than 1 to 6, and for what a metre cannot hold."""
    if not 1 <= number <= len(RHYTHMS):
        raise TuneError(
            "lines.unknown_rhythm", number=number, first=RHYTHMS[0].told, highest=len(RHYTHMS), last=RHYTHMS[-1].told
        )
    if meter.compound and number == _TRIPLETS:
        raise TuneError("lines.no_triplets", metre=meter.text, highest=number - 1)
    return RHYTHMS[number - 1]


def meter_named(text: str) -> Meter:
    """The metre written "3/4". Raises `TuneError` for one that lines are not made in."""
    for meter in METERS:
        if meter.text == text:
            return meter
    raise TuneError("lines.unknown_metre", given=text, choices=tuple(meter.text for meter in METERS))


def usual_rhythm(number: int, meter: Meter) -> Rhythm:
    """The rhythm level of a number, or the nearest below that the metre can hold."""
    return rhythm_of(min(number, _TRIPLETS - 1) if meter.compound else number, meter)
