"""The bars of a passage in another order, where a voice can still sing from one to the next."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import groupby, pairwise, permutations
from random import Random

from game.music.chords import ChordSymbol
from game.music.passage import Passage
from game.music.score import NO_MARKS, Bar, Note

# Semitones at a join: a sixth at most, no tritone (ours).
_WIDEST_JOIN = 9
_TRITONE = 6
# Up to so many blocks all orders are tried, beyond that so many shuffles.
_FEW_BLOCKS = 6
_SHUFFLES = 200

_Block = tuple[Bar, ...]


def reordered(passage: Passage, rng: Random) -> tuple[Bar, ...] | None:
    """The same bars in another order, None where none can be sung.

    Bars tied together stay together. A pickup bar stays first, the last bar last, and the first full bar begins with a
    note. Bars must share key and metre. Chord symbols go with their bars.
    """
    bars = detached_bars(passage)
    first = 1 if bars[0].pickup else 0
    if len({(bar.key, bar.meter, bar.length) for bar in bars[first:]}) != 1:
        return None
    blocks = _blocks(bars[first:])
    head, last = (bars[:first],) if first else (), blocks[-1]
    found = []
    for order in _orders(blocks[:-1], rng):
        row = tuple(bar for block in (*head, *order, last) for bar in block)
        joins = [_join(before, after) for before, after in pairwise((*head, *order, last))]
        sung = _begins(row[first]) and all(join <= _WIDEST_JOIN and join != _TRITONE for join in joins)
        if sung and [bar.notes for bar in row] != [bar.notes for bar in bars]:
            found.append((1 / (1 + sum(joins)), row))
    if not found:
        return None
    return rng.choices([row for _, row in found], [odd for odd, _ in found])[0]


def renumbered(bars: Sequence[Bar]) -> tuple[Bar, ...]:
    """The bars with numbers from 1, a pickup bar 0, and no repeat signs left."""
    first = 0 if bars[0].pickup else 1
    return tuple(replace(bar, number=str(number), marks=NO_MARKS) for number, bar in enumerate(bars, start=first))


def detached_bars(passage: Passage) -> tuple[Bar, ...]:
    """The bars of a passage without ties to what lies around them, each with the chord that holds at its beginning."""
    bars = list(passage.bars)
    bars[0] = _with_note(bars[0], 0, lambda note: replace(note, tied_from_previous=False))
    bars[-1] = _with_note(bars[-1], -1, lambda note: replace(note, tied_to_next=False))
    chord = next((bar.chords[-1] for bar in reversed(passage.score.bars[: passage.start]) if bar.chords), None)
    for index, bar in enumerate(bars):
        if chord and not any(symbol.onset == 0 for symbol in bar.chords):
            bars[index] = replace(bar, chords=(_at_start(chord), *bar.chords))
        chord = bars[index].chords[-1] if bars[index].chords else chord
    return tuple(bars)


def _with_note(bar: Bar, place: int, change: Callable[[Note], Note]) -> Bar:
    """The bar with its first (0) or last (-1) note changed."""
    places = [index for index, event in enumerate(bar.events) if isinstance(event, Note)]
    if not places:
        return bar
    events = list(bar.events)
    note = events[places[place]]
    events[places[place]] = change(note) if isinstance(note, Note) else note
    return replace(bar, events=tuple(events))


def _at_start(chord: ChordSymbol) -> ChordSymbol:
    return replace(chord, onset=chord.onset * 0)


def _blocks(bars: Sequence[Bar]) -> list[_Block]:
    """Bars one by one, but those that a tie joins together."""
    numbers = [0]
    for before, after in pairwise(bars):
        tied = bool(before.notes and after.notes) and before.notes[-1].tied_to_next
        numbers.append(numbers[-1] + (not tied))
    pairs = zip(numbers, bars, strict=True)
    return [tuple(bar for _, bar in group) for _, group in groupby(pairs, key=lambda pair: pair[0])]


def _orders(blocks: Sequence[_Block], rng: Random) -> list[tuple[_Block, ...]]:
    if len(blocks) <= _FEW_BLOCKS:
        return list(permutations(blocks))
    return [tuple(rng.sample(blocks, len(blocks))) for _ in range(_SHUFFLES)]


def _begins(bar: Bar) -> bool:
    """Whether a bar can open a passage: with a note."""
    return bool(bar.events) and isinstance(bar.events[0], Note)


def _join(before: _Block, after: _Block) -> int:
    """Semitones from the last note of a block to the first of the next; 0 beside a block without notes."""
    last = [note for bar in before for note in bar.notes if not note.grace]
    first = [note for bar in after for note in bar.notes if not note.grace]
    return abs(first[0].pitch.midi - last[-1].pitch.midi) if last and first else 0
