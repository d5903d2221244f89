"""Where chord symbols stand when the file does not say it: several on one note, or behind the end of their bar. Pure.

Equal parts on the grid of beats: where they do not come out even the earlier symbol stands longer, as in most of the
lead sheets that write each place out (trade): three in four beats stand on 1, 3 and 4, two in three on 1 and 3.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import groupby

from game.music.chords import ChordSymbol
from game.music.meter import Meter
from game.music.score import Bar
from game.tunes.left_out import LeftOut

# Parts of the printed beat on which a symbol may stand, before the equal parts themselves do.
_FINER = (1, 2, 4)


def shared_places(count: int, start: Fraction, end: Fraction, meter: Meter, *, ahead: Fraction) -> tuple[Fraction, ...]:
    """`count` places from `start` on and before `end`, the first at `start`: equal parts, put on the coarsest grid of
    beats on which they differ. All in quarter notes from the start of the bar; `ahead` is what a pickup bar lacks.
    """
    parts = [start + (end - start) * index / count for index in range(count)]
    unit = Fraction(4, meter.unit)
    for grid in (meter.beat_length, *(unit / finer for finer in _FINER)):
        for onto in (math.ceil, math.floor):
            on_grid = [start, *(onto((part + ahead) / grid) * grid - ahead for part in parts[1:])]
            if all(one < other for one, other in zip(on_grid, [*on_grid[1:], end], strict=True)):
                return tuple(on_grid)
    return tuple(parts)


def beats_ahead(bar: Bar) -> Fraction:
    """What a pickup bar lacks of its metre: its beats are counted from its end."""
    return bar.meter.bar_length - bar.length if bar.pickup else Fraction(0)


def chords_kept_inside(bars: Sequence[Bar], left_out: LeftOut) -> tuple[Bar, ...]:
    """The bars with each chord symbol inside one; `left_out` hears in which bars something stood at or behind the end.

    In a bar that is shorter than its metre such a place was counted from where the full bar would begin. Elsewhere it
    is the same place of the next bar, when no symbol stands there before it, else the end of its own.
    """
    inside = [tuple(chord for chord in bar.chords if chord.onset < bar.length) for bar in bars]
    for index, bar in enumerate(bars):
        late = [chord for chord in bar.chords if chord.onset >= bar.length]
        if not late:
            continue
        left_out.add("tune.chords_beyond_bar", bar.number)
        in_full_bar = _moved(late, bar.meter.bar_length - bar.length)
        in_next_bar = _moved(late, bar.length)
        short = bar.length < bar.meter.bar_length
        if short and _fits(in_full_bar, bar) and _free(in_full_bar, inside[index]):
            inside[index] = (*in_full_bar, *inside[index])
        elif index + 1 < len(bars) and _free(in_next_bar, inside[index + 1]) and _fits(in_next_bar, bars[index + 1]):
            inside[index + 1] = (*in_next_bar, *inside[index + 1])
        else:
            inside[index] = with_late_chords(bar, inside[index], late)
    return tuple(replace(bar, chords=_apart(bar, chords, left_out)) for bar, chords in zip(bars, inside, strict=True))


def _apart(bar: Bar, chords: Sequence[ChordSymbol], left_out: LeftOut) -> tuple[ChordSymbol, ...]:
    """No two symbols in one place: what several voices or staves say of it shares the time until the next symbol."""
    places = [list(same) for _, same in groupby(chords, key=lambda chord: chord.onset)]
    apart: list[ChordSymbol] = []
    for index, same in enumerate(places, start=1):
        end = places[index][0].onset if index < len(places) else bar.length
        distinct = list({chord.text: chord for chord in same}.values())
        if len(distinct) > 1:
            left_out.add("tune.chords_shared", bar.number)
        start = distinct[0].onset
        onsets = shared_places(len(distinct), start, end, bar.meter, ahead=beats_ahead(bar))
        apart += [replace(chord, onset=onset) for chord, onset in zip(distinct, onsets, strict=True)]
    return tuple(apart)


def _moved(chords: Sequence[ChordSymbol], earlier: Fraction) -> tuple[ChordSymbol, ...]:
    return tuple(replace(chord, onset=max(chord.onset - earlier, Fraction(0))) for chord in chords)


def _fits(chords: Sequence[ChordSymbol], bar: Bar) -> bool:
    return chords[-1].onset < bar.length


def _free(chords: Sequence[ChordSymbol], others: Sequence[ChordSymbol]) -> bool:
    """Whether all the others stand later than these."""
    return all(other.onset > chords[-1].onset for other in others)


def with_late_chords(bar: Bar, inside: Sequence[ChordSymbol], late: Sequence[ChordSymbol]) -> tuple[ChordSymbol, ...]:
    """The symbols of a bar with those that came too late: they stand on its last note where that is free, else they
    share what is left with the last symbol before them.
    """
    if not late:
        return tuple(inside)
    # Grace notes behind the last note stand at the end of the bar and take no time.
    last_note = max((event.onset for event in bar.events if event.length), default=Fraction(0))
    taken = inside[-1:] if inside and inside[-1].onset >= last_note else ()
    start = taken[0].onset if taken else last_note
    places = shared_places(len(taken) + len(late), start, bar.length, bar.meter, ahead=beats_ahead(bar))[len(taken) :]
    return (*inside, *(replace(chord, onset=place) for chord, place in zip(late, places, strict=True)))
