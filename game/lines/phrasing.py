"""Phrases and their rhythm: bars that take up the rhythm of others, breaths between phrases, a long last note."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from random import Random

from game.lines.rhythms import (
    BREATHS,
    DOTTED_BREATHS,
    DOTTED_FINALS,
    EIGHTH,
    FINALS,
    Beat,
    Rhythm,
    beats_of,
    cells_of_bar,
)
from game.music.meter import Meter

CADENCE, LAST = ".", "!"
_PHRASE_BARS = 4
# Which bars of a phrase share their rhythm; the last bar of each is its cadence.
_PLANS = {1: ("a",), 2: ("ab", "aa"), 3: ("aab", "aba", "abb", "abc", "aab")}
_NEW_MATERIAL = 0.4
_HELD = 0.25
# A phrase over changes ends early in its last bar; then it rests, and something leads on.
_SOLO_ENDS = ("qr", "h", "qr", "esr")
_LEADS = {24: ("R", "ree", "seee", "rse", "R"), 12: ("r", "se", "ee")}
_SOLO_FINALS = ("w", "hR", "qrR")
_SOLO_FINALS_OF_THREE = ("D", "hr", "qrr")


@dataclass(frozen=True, slots=True)
class PhraseSpot:
    """A note or rest in the line: onset from its beginning and length, in ticks; `triplet` as in `Beat`."""

    onset: int
    ticks: int
    rest: bool = False
    triplet: int | None = None


@dataclass(frozen=True, slots=True)
class Cell:
    """What happens from one strong beat to the next. An early first note may lie before `start`, in ticks."""

    start: int
    bar: int
    spots: tuple[PhraseSpot, ...]

    @property
    def struck(self) -> tuple[PhraseSpot, ...]:
        """Its notes, without rests."""
        return tuple(spot for spot in self.spots if not spot.rest)

    @property
    def begins_with_rest(self) -> bool:
        """Whether its strong beat is silent."""
        return bool(self.spots) and self.spots[0].rest


def phrases_of(bars: int) -> tuple[int, ...]:
    """How many bars each phrase has: four, and two or three where four do not go in."""
    lengths = [_PHRASE_BARS] * (bars // _PHRASE_BARS)
    left = bars % _PHRASE_BARS
    if left == 1 and lengths:
        lengths[-1:] = [3, 2]
    elif left:
        lengths.append(left)
    return tuple(lengths)


def letters_of(phrases: Sequence[int], rng: Random) -> tuple[str, ...]:
    """A letter for each bar: bars with the same letter share their rhythm; "." is a cadence, "!" the last bar."""
    letters: list[str] = []
    taken = {"a": "a"}
    for bars in phrases:
        if rng.random() < _NEW_MATERIAL:
            taken = {"a": taken["a"]}
        plan = rng.choice(_PLANS[bars - 1])
        for letter in plan:
            taken.setdefault(letter, f"{letter}{len(letters)}")
            letters.append(taken[letter])
        letters.append(CADENCE)
    return (*letters[:-1], LAST)


def tune_rhythm(rhythm: Rhythm, flow: float, meter: Meter, letters: Sequence[str], rng: Random) -> tuple[Cell, ...]:
    """The rhythm of a tune: a cell for each bar. Phrases breathe, the last note is long; more eighths with `flow`."""
    known: dict[str, tuple[Beat, ...]] = {}
    rows = []
    for index, letter in enumerate(letters):
        if letter in (CADENCE, LAST):
            rows.append(_cadence(meter, rng, last=letter == LAST))
            continue
        if letter not in known:
            known[letter] = _bar(rhythm, flow, meter, rng)
        row = known[letter]
        rows.append(row if index or not row[0].rest else tuple(replace(beat, rest=False) for beat in row))
    length = sum(cells_of_bar(meter))
    return _with_early_notes([_cell(index * length, index, row) for index, row in enumerate(rows)], rhythm, rng)


def solo_rhythm(rhythm: Rhythm, flow: float, meter: Meter, phrases: Sequence[int], rng: Random) -> tuple[Cell, ...]:
    """The rhythm of a line over changes: a cell from strong beat to strong beat, mostly eighths where `flow` is
    large. The last bar has one cell.
    """
    cells: list[Cell] = []
    length = sum(cells_of_bar(meter))
    last = sum(phrases) - 1
    ends = {sum(phrases[: index + 1]) - 1 for index in range(len(phrases))}
    for bar in range(last):
        start = bar * length
        for ticks, word in zip(
            cells_of_bar(meter), _solo_words(rhythm, flow, meter, rng, end=bar in ends), strict=True
        ):
            row = beats_of(word)
            if not cells:
                row = tuple(replace(beat, rest=False) for beat in row)
            cells.append(_cell(start, bar, row))
            start += ticks
    final = rng.choice(_SOLO_FINALS if length == 48 else _SOLO_FINALS_OF_THREE)
    cells.append(_cell(last * length, last, beats_of(final)))
    return _with_early_notes(cells, rhythm, rng)


def _solo_words(rhythm: Rhythm, flow: float, meter: Meter, rng: Random, *, end: bool) -> list[str]:
    words = [_word(rhythm, ticks, rng, flow) for ticks in cells_of_bar(meter)]
    if end and rhythm.number > 1:
        words[0], words[-1] = rng.choice(_SOLO_ENDS), rng.choice(_LEADS[cells_of_bar(meter)[-1]])
    elif end:
        words[0] = "h"
    return words


def _word(rhythm: Rhythm, ticks: int, rng: Random, flow: float) -> str:
    odds: Mapping[str, float] = {24: rhythm.halves, 12: rhythm.quarters, 18: rhythm.dotted}[ticks]
    weights = [odd * (flow if _flows(word) else 1.0) for word, odd in odds.items()]
    return rng.choices(list(odds), weights)[0]


@cache
def _flows(word: str) -> bool:
    """Whether a cell moves in eighths or triplets all through."""
    return all(beat.ticks <= EIGHTH and not beat.rest for beat in beats_of(word))


def _bar(rhythm: Rhythm, flow: float, meter: Meter, rng: Random) -> tuple[Beat, ...]:
    """A bar of cells in any order, some joined to one longer note over the beat."""
    lengths = list(cells_of_bar(meter))
    rng.shuffle(lengths)
    row: list[Beat] = []
    for ticks in lengths:
        beats = beats_of(_word(rhythm, ticks, rng, flow))
        before, first = (row[-1] if row else None), beats[0]
        joins = before and not (before.rest or first.rest) and before.triplet is None and first.triplet is None
        if before and joins and rng.random() < (rhythm.early if before.ticks == EIGHTH else _held(before, first)):
            row[-1] = Beat(before.ticks + first.ticks)
            beats = beats[1:]
        row += beats
    return tuple(row)


def _held(before: Beat, first: Beat) -> float:
    """How likely two notes on the beat become one of two beats or more."""
    return _HELD if min(before.ticks, first.ticks) >= 2 * EIGHTH and before.ticks + first.ticks in (24, 36, 48) else 0.0


def _cadence(meter: Meter, rng: Random, *, last: bool) -> tuple[Beat, ...]:
    plain = (BREATHS, FINALS)[last]
    ends = (DOTTED_BREATHS, DOTTED_FINALS)[last] if meter.compound else plain
    return beats_of(rng.choice(ends[sum(cells_of_bar(meter))]))


def _cell(start: int, bar: int, beats: Sequence[Beat]) -> Cell:
    spots = []
    onset = start
    for beat in beats:
        spots.append(PhraseSpot(onset, beat.ticks, beat.rest, beat.triplet))
        onset += beat.ticks
    return Cell(start, bar, tuple(spots))


def _with_early_notes(cells: list[Cell], rhythm: Rhythm, rng: Random) -> tuple[Cell, ...]:
    """Some first notes come an eighth early, in place of the last eighth before them."""
    for index in range(1, len(cells)):
        before, here = cells[index - 1], cells[index]
        last, first = before.spots[-1], here.spots[0]
        fits = last.ticks == EIGHTH and not last.rest and last.triplet is None and len(before.struck) > 1
        if fits and not first.rest and first.triplet is None and rng.random() < rhythm.early:
            early = PhraseSpot(first.onset - EIGHTH, first.ticks + EIGHTH)
            cells[index - 1] = replace(before, spots=before.spots[:-1])
            cells[index] = replace(here, spots=(early, *here.spots[1:]))
    return tuple(cells)
