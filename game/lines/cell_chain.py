"""A chain of cells: each drawn by the one before it and its place in the bar, within a rhythm level."""

from dataclasses import dataclass, field
from functools import cache
from math import exp
from random import Random

from game.lines.line_weights import Idiom, weights_of
from game.lines.rhythms import (
    EIGHTH,
    HALF,
    HELD_OFF_BEATS,
    QUARTER,
    Cell,
    Rhythm,
    leaves_off_beat,
    level_of_cell,
)
from game.music.meter import Meter

_Row = tuple[tuple[Cell, ...], tuple[float, ...]]
_TABLES = {HALF: "4/4", 36: "3/4", 18: "6/8"}
# How much likelier a cell of a song becomes by each time it was drawn, and how much lines differ in density.
_HABIT, _DENSITY = 0.15, {Idiom.FOLK: 0.28, Idiom.LEAD: 0.28, Idiom.SOLO: 0.35}
# How much likelier a cell is that the level adds: it is to be read there. Triplets need no help.
# Syncopations are cells off the beat whose notes sound on.
_OWN, _OFF_BEATS = {3: 1.6, 4: 1.6, 5: 1.9}, 4
# Songs have few cells off the beat, and fewer triplets; whoever asks for their level is to read some. By level and
# ticks, in hundredths beside the other cells.
_OFF_BEAT_SONGS: dict[int, dict[Cell, float]] = {
    HALF: {(0, 6, 18): 2.5, (6, 12, 18): 2.5, (6, 12): 2.0, (0, 6): 1.0},
    36: {(0, 6, 18, 24): 5.0, (0, 6, 24): 4.0, (6, 12, 24): 4.0, (0, 12, 18, 30): 3.0},
    18: {(6, 12): 6.0, (12,): 3.0},
}
_MORE_IN_SONGS: dict[int, dict[int, dict[Cell, float]]] = {
    4: _OFF_BEAT_SONGS,
    5: {ticks: {cell: 2 * odd for cell, odd in row.items()} for ticks, row in _OFF_BEAT_SONGS.items()}
    | {18: {(0, 6): 8.0, (6,): 4.0}},
    6: {
        HALF: {(0, 4, 8, 12): 7.0, (0, 12, 16, 20): 7.0},
        36: {(0, 4, 8, 12, 24): 7.0, (0, 12, 16, 20, 24): 7.0, (0, 12, 24, 28, 32): 5.0},
    },
}
# How likely an eighth off the beat is that stands alone, over changes, where it may not be held: solos are no exercise
# in rests.
_ALONE = 0.2
# How likely a phrase over changes begins on the beat, beside the weights.
_LATE = 0.7
# How likely a triplet is that begins with a rest, beside the weights: it is hard to read, and comes alone.
_HOLLOW = 0.3
# How much denser the cells of each rhythm level are than by the weights, from the first level on: the levels are a
# ladder, none harder than the next, and none a leap (measured by `game.music.difficulty`).
_RUNGS_OF_SONGS = {
    Meter(3, 4): (0.0, -0.2, -0.15, 0.0, 0.1, 0.1),
    Meter(6, 8): (-1.0, -0.5, -0.2, -0.1, 0.2),
}
_RUNGS_OF_SOLOS = {Meter(4, 4): (0.3, -0.7, -0.4, 0.0, 0.0, 0.0), Meter(3, 4): (0.4, -0.3, -0.15, 0.1, -0.15, -0.2)}
_MOST_NOTES = 12
_START: Cell = (-1,)


@dataclass(slots=True)
class CellChain:
    """Draws the cells of one line. Each line has habits: it likes what it has had, and is denser or sparser;
    `silence` is how much likelier an empty cell is than by the weights, `off` one that begins off its first beat.
    """

    rhythm: Rhythm
    idiom: Idiom
    rng: Random
    dense: float = 0.0
    silence: float = 1.0
    habit: float = _HABIT
    off: float = 1.0
    before: Cell = _START
    had: dict[Cell, int] = field(default_factory=dict)
    by_count: list[float] = field(default_factory=list)

    def __post_init__(self) -> None:
        dense = self.dense + self.rng.gauss(0.0, _DENSITY[self.idiom])
        self.by_count = [self.silence, *(exp(dense * count) for count in range(1, _MOST_NOTES + 1))]

    def drawn(self, place: int, ticks: int, *, led: bool = False, late: bool = False) -> Cell:
        """The next cell, of so many ticks, in that place of its bar (0 the first). `led` says that something must sound
        on its first beat, `late` that something does, but not there at once.
        """
        led = led or (leaves_off_beat(self.before, ticks) and not self.rhythm.has_rests)
        cells, usual = _row(self.idiom, self.rhythm.number, min(place, 1), self.before, ticks, led)
        had, by_count = self.had, self.by_count
        odds = [
            odd
            * by_count[len(cell)]
            * (1 + self.habit * had[cell] if cell in had else 1.0)
            * (self.off if cell and cell[0] else 1.0)
            for cell, odd in zip(cells, usual, strict=True)
        ]
        if late:
            odds = [odd if cell and cell[0] else 0.0 for cell, odd in zip(cells, odds, strict=True)]
        cell = self.rng.choices(cells, odds)[0] if any(odds) else (0,)
        self.had[cell] = self.had.get(cell, 0) + 1
        self.before = cell
        return cell


def rung(idiom: Idiom, rhythm: Rhythm, meter: Meter) -> float:
    """How much denser the cells of a rhythm level are in a metre than by the weights."""
    if meter.compound:
        meter = Meter(6, 8)
    rungs = _RUNGS_OF_SOLOS if idiom is Idiom.SOLO else _RUNGS_OF_SONGS
    return rungs[meter][rhythm.number - 1] if meter in rungs else 0.0


@cache
def _row(idiom: Idiom, level: int, place: int, before: Cell, ticks: int, led: bool) -> _Row:
    """The cells that may follow and their weights; one beat alone has the first beats of the cells of two."""
    whole = ticks if ticks in _TABLES else HALF
    table = weights_of(idiom).cells.get(_TABLES[whole]) or weights_of(Idiom.FOLK).cells[_TABLES[whole]]
    found: dict[Cell, float] = {}
    for context in (f"{place}|{_named(before)}", str(place), "0"):
        for name, weight in table.get(context, {}).items():
            cell = tuple(onset for onset in _cell(name) if onset < ticks)
            if level_of_cell(cell, ticks) <= level and (not led or cell[:1] == (0,)):
                own = _OWN.get(level, 1.0) if min(level, _OFF_BEATS) <= level_of_cell(cell, ticks) else 1.0
                hollow = _hollow_beats(cell)
                own *= (0.0 if hollow > 1 or _hollow_beats(before) else _HOLLOW) if hollow else 1.0
                own *= (
                    _ALONE if idiom is Idiom.SOLO and level < HELD_OFF_BEATS and _is_alone(before, cell, ticks) else 1.0
                )
                after_silence = _LATE if before == () and cell[:1] == (0,) and idiom is Idiom.SOLO else 1.0
                found[cell] = found.get(cell, 0.0) + weight * own * after_silence
        if found:
            break
    if idiom is not Idiom.SOLO:
        more = _MORE_IN_SONGS.get(level, {}).get(ticks, {})
        found |= {cell: found.get(cell, 0.0) + odd for cell, odd in more.items() if not led or cell[:1] == (0,)}
    found = found or {(0,): 1.0}
    return tuple(found), tuple(found.values())


def _hollow_beats(cell: Cell) -> int:
    """How many triplets in a cell have no first note."""
    return sum(onset % QUARTER == 4 and onset - 4 not in cell for onset in cell)


def _is_alone(before: Cell, cell: Cell, ticks: int) -> bool:
    """Whether a note off the beat has no other an eighth before or after it: one of the cell, but for its last eighth,
    which the next may join, or that of the cell before.
    """
    if leaves_off_beat(before, ticks) and before[-1] - EIGHTH not in before and cell[:1] != (0,):
        return True
    eighths = [onset for onset in cell if onset % QUARTER == EIGHTH]
    return any(onset + EIGHTH < ticks and not {onset - EIGHTH, onset + EIGHTH} & set(cell) for onset in eighths)


def _named(cell: Cell) -> str:
    return "start" if cell == _START else " ".join(map(str, cell)) or "-"


def _cell(name: str) -> Cell:
    return () if name == "-" else tuple(map(int, name.split()))
