"""What simulated players play: lines of many kinds in many rhythms, and tunes, each with its grid at a tempo.

Everything is drawn from the generator that is passed in.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from random import Random

from game.judging.expected import ExpectedNote, expected_notes
from game.judging.tolerance import BarSpan, TimedGrid, bar_spans, timed_grid
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.music.keys import Key
from game.music.meter import Meter
from game.music.passage import whole_tune
from game.music.score import Score
from game.music.written import WrittenNote, written_out
from game.tunes.library.library import open_entry
from tests.judging.made_takes import HIGHEST, LOWEST, MAP, written_line
from tests.tunes.book_by_number import book_by_number

LEAST_GAP_S = 0.105
"""Nearer than this no line is written for a player: sixteenths at 140."""

_MAJOR = (0, 2, 4, 5, 7, 9, 11)
_SCALE = tuple(pitch for pitch in range(LOWEST, HIGHEST + 1) if pitch % 12 in _MAJOR)
_H, _Q, _E, _S, _T = Fraction(2), Fraction(1), Fraction(1, 2), Fraction(1, 4), Fraction(1, 3)
# One bar of four quarters a row: lengths, negative for a rest. Rows that are no whole bar go over the bar line.
RHYTHMS: dict[str, tuple[tuple[Fraction, ...], ...]] = {
    "quarters": ((_Q,) * 4,),
    "eighths": ((_E,) * 8,),
    "sixteenths": ((_S,) * 16,),
    "triplets": ((_T,) * 12,),
    "dotted": ((_Q + _E, _E, _Q + _E, _E), (_E + _S, _S) * 4),
    "mixed": (
        (_E,) * 8,
        (_Q, _E, _E, _Q, _Q),
        (_Q + _E, _E, _Q, _E, _E),
        (_H, _Q, _E, _E),
        (_E, _Q, _E, _E, _E, _Q),
        (_E, _S, _S, _E, _E, _Q, _Q),
        (_T, _T, _T, _Q, _E, _E, _Q),
    ),
    "ties": (
        (_E, _Q, _Q, _Q, _E),
        (_Q, _Q, _Q + _E, _Q, _E, _E, _E, _H + _E),
        (_Q + _E, _Q + _E, _H, _E, _Q + _E, _H),
        (_E, _E, _Q, _E, _Q, _E),
    ),
    "rests": (
        (_E, -_E, _E, _E, -_Q, _Q),
        (_Q, -_Q, _E, _E, -_E, _E),
        (-_E, _E, _E, _E, _Q, -_Q),
        (_E, _E, _E, _E, -_E, _E, _E, -_E),
        (_H, -_H),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A line and its grid. `spans` are its bars as the clock sees them, `quarter_s` the quarter note."""

    name: str
    line: tuple[ExpectedNote, ...]
    grid: TimedGrid
    spans: tuple[BarSpan, ...]
    quarter_s: float

    @property
    def bar_starts(self) -> tuple[int, ...]:
        """The index of the first note of each bar that has one."""
        bars = [note.note.bar for note in self.line]
        return tuple(index for index, bar in enumerate(bars) if index == 0 or bars[index - 1] != bar)

    @property
    def beat_s(self) -> float:
        """The felt beat at the start."""
        return self.grid.beats_s[0]


def walking(count: int, rng: Random) -> list[int]:
    """Mostly by step, some leaps and repeated notes."""
    pitches = [rng.randint(LOWEST + 8, HIGHEST - 8)]
    while len(pitches) < count:
        step = rng.choice((-7, -4, -3, -2, -2, -1, -1, 0, 1, 1, 2, 2, 3, 4, 7))
        pitches.append(min(max(pitches[-1] + step, LOWEST), HIGHEST))
    return pitches


def scales(count: int, rng: Random) -> list[int]:
    """Up and down the scale, turning at the ends and now and then between."""
    at, step, pitches = rng.randrange(len(_SCALE)), rng.choice((-1, 1)), []
    while len(pitches) < count:
        if not 0 <= at + step < len(_SCALE) or rng.random() < 0.06:
            step = -step if 0 <= at - step < len(_SCALE) else step
        at += step
        pitches.append(_SCALE[at])
    return pitches


def ostinato(count: int, rng: Random) -> list[int]:
    """Two to five pitches over and over, the figure changed or moved every few bars."""
    pitches: list[int] = []
    while len(pitches) < count:
        low = rng.randrange(len(_SCALE) - 5)
        figure = rng.sample(_SCALE[low : low + 6], rng.randint(2, 5))
        pitches += figure * rng.randint(3, 8)
    return pitches[:count]


def repeated(count: int, rng: Random) -> list[int]:
    """Each pitch two to eight times."""
    pitches: list[int] = []
    while len(pitches) < count:
        choices = [pitch for pitch in _SCALE if not pitches or pitch != pitches[-1]]
        pitches += [rng.choice(choices)] * rng.randint(2, 8)
    return pitches[:count]


PITCHES: dict[str, Callable[[int, Random], list[int]]] = {
    "walking": walking,
    "scales": scales,
    "ostinato": ostinato,
    "repeated": repeated,
}


def made_line(pitches: str, rhythm: str, bars: int, tempo_bpm: float, rng: Random) -> Material:
    """So many bars of four quarters of a kind of pitches and a rhythm."""
    onsets, lengths = _rhythm(rhythm, bars, rng)
    notes = written_line(PITCHES[pitches](len(onsets), rng), lengths)
    placed = tuple(
        replace(note, onset=onset, bar=str(onset // 4 + 1)) for note, onset in zip(notes, onsets, strict=True)
    )
    spans = tuple(BarSpan(start=Fraction(4 * index), meter=Meter()) for index in range(bars))
    return material_of(f"{pitches} {rhythm} {bars} bars at {tempo_bpm:.0f}", placed, spans, tempo_bpm)


def _rhythm(kind: str, bars: int, rng: Random) -> tuple[list[Fraction], list[Fraction]]:
    onsets: list[Fraction] = []
    lengths: list[Fraction] = []
    at, end = Fraction(0), Fraction(4 * bars)
    while at < end:
        for length in rng.choice(RHYTHMS[kind]):
            if length > 0 and at < end:
                onsets.append(at)
                lengths.append(min(length, end - at))
            at += abs(length)
    return onsets, lengths


def material_of(name: str, notes: Sequence[WrittenNote], spans: Sequence[BarSpan], tempo_bpm: float) -> Material:
    """Notes with homes in position V, and their grid."""
    grid = timed_grid(notes, tempo_bpm=tempo_bpm, spans=spans)
    line = expected_notes(notes, MAP)
    return Material(name=name, line=line, grid=grid, spans=tuple(spans), quarter_s=60 / tempo_bpm)


def shipped_tune(number: int, tempo_bpm: float) -> Material:
    """A tune of those we ship, by its place in the order of their numbers; whole, repeats written out."""
    score = _shipped(number)
    return _of_score(f"tune {score.title} at {tempo_bpm:.0f}", score, tempo_bpm)


@cache
def _shipped(number: int) -> Score:
    entries = book_by_number()
    return written_out(open_entry(entries[number % len(entries)]))


def new_line(level: int, bars: int, tempo_bpm: float, rng: Random) -> Material:
    """A fresh line of a level."""
    key = Key(rng.choice((0, 0, 1, -1, -2, 2)))
    score = written_out(fresh_line(level_of(level), MAP, key=key, bars=bars, rng=rng))
    return _of_score(f"fresh line level {level} {bars} bars at {tempo_bpm:.0f}", score, tempo_bpm)


def _of_score(name: str, score: Score, tempo_bpm: float) -> Material:
    passage = whole_tune(score)
    return material_of(name, passage.notes, bar_spans(passage.bars), tempo_bpm)


def playable_tempo(rhythm: str, tempo_bpm: float) -> float:
    """The tempo itself, or as fast as the rhythm can be played."""
    shortest = min(abs(float(length)) for row in RHYTHMS[rhythm] for length in row)
    return min(tempo_bpm, 60 * shortest / LEAST_GAP_S)
