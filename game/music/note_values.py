"""Lengths as printed note values, and the brackets of tuplets. Pure."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from game.music.score import Event, Note, NoteValue, Rest, Tuplet

# A breve down to a 128th, in quarter notes.
BASES = tuple(Fraction(2) ** power for power in range(3, -6, -1))
MAX_DOTS = 2
# Usual tuplets (trade): notes in the time of.
_RATIOS = ((3, 2), (5, 4), (7, 4), (6, 4), (9, 8), (2, 3), (4, 3))


@lru_cache(maxsize=4096)
def value_of(length: Fraction) -> NoteValue | None:
    """The single printed value that lasts `length` quarter notes, a tuplet if need be; None when there is
    none.
    """
    for dots in range(MAX_DOTS + 1):
        base = length / (2 - Fraction(1, 2**dots))
        if base in BASES:
            return NoteValue(base=base, dots=dots)
    for actual, normal in _RATIOS:
        if length * actual / normal in BASES:
            return NoteValue(base=length * actual / normal, tuplet=Tuplet(actual=actual, normal=normal))
    return None


@lru_cache(maxsize=4096)
def values_of(length: Fraction) -> tuple[NoteValue, ...]:
    """Printed values that together last `length` quarter notes, longest first, to be tied.

    When nothing printed comes to it exactly, the answer is the single nearest value, whose length is another.
    """
    single = value_of(length)
    if single:
        return (single,)
    plain = _plain_values(length)
    if plain:
        return plain
    found = [*_beats_and_tuplet(length), *_in_one_tuplet(length)]
    nearest = NoteValue(base=min(BASES, key=lambda base: abs(base - length)))
    return min(found, key=len, default=(nearest,))


def _plain_values(length: Fraction) -> tuple[NoteValue, ...]:
    """Values outside tuplets, none where they cannot come to it."""
    values, rest = [], length
    for base in BASES:
        while base <= rest:
            dots = 1 if rest >= base * Fraction(3, 2) and base > BASES[-1] else 0
            values.append(NoteValue(base=base, dots=dots))
            rest -= values[-1].length
    return () if rest else tuple(values)


def _beats_and_tuplet(length: Fraction) -> Iterator[tuple[NoteValue, ...]]:
    """Whole beats, or halves or quarters of them, and one note of a tuplet."""
    for unit in (Fraction(1), Fraction(1, 2), Fraction(1, 4)):
        whole = length // unit * unit
        last = value_of(length - whole) if whole else None
        if last and last.tuplet:
            yield (*_plain_values(whole), last)


def _in_one_tuplet(length: Fraction) -> Iterator[tuple[NoteValue, ...]]:
    """Several notes of one tuplet."""
    for actual, normal in _RATIOS:
        values = _plain_values(length * actual / normal)
        if values:
            tuplet = Tuplet(actual=actual, normal=normal)
            yield tuple(replace(value, tuplet=tuplet) for value in values)


def rests_between(start: Fraction, end: Fraction) -> Iterator[Rest]:
    """Rests from `start` to `end` of a bar; none when the end is not later."""
    if end <= start:
        return
    values = values_of(end - start)
    for value in values:
        taken = value.length if len(values) > 1 else end - start
        yield Rest(onset=start, length=taken, value=value)
        start += taken


def bracketed(events: Sequence[Event]) -> tuple[Event, ...]:
    """The events of a bar with each tuplet's first and last member marked, as far as the file left that out.

    A run of one ratio is cut where its printed values fill `actual` of its smallest value. Marks of the file
    stand where they pair off.
    """
    marked = list(events)
    run: list[int] = []
    for index, event in enumerate(events):
        if isinstance(event, Note) and event.grace:
            continue
        tuplet = event.value.tuplet
        if run and (tuplet is None or _ratio(tuplet) != _ratio(_tuplet_of(events[run[0]]))):
            _mark_run(marked, run)
            run = []
        if tuplet:
            run.append(index)
    if run:
        _mark_run(marked, run)
    return tuple(marked)


def _mark_run(events: list[Event], run: list[int]) -> None:
    if _pairs_off([_tuplet_of(events[index]) for index in run]):
        return
    start = run[0]
    filled = Fraction(0)
    smallest = BASES[0]
    for index in run:
        value = events[index].value
        tuplet = _tuplet_of(events[index])
        smallest = min(smallest, value.base)
        filled += value.base * (2 - Fraction(1, 2**value.dots))
        full = filled % (smallest * tuplet.actual) == 0 or index == run[-1]
        events[index] = _with_ends(events[index], starts=index == start, stops=full)
        if full:
            filled, smallest = Fraction(0), BASES[0]
            start = run[run.index(index) + 1] if index != run[-1] else index


def _pairs_off(tuplets: Sequence[Tuplet]) -> bool:
    """Whether every member lies between a start and its stop."""
    inside = False
    for tuplet in tuplets:
        if tuplet.starts == inside:
            return False
        inside = not tuplet.stops
    return not inside


def _with_ends(event: Event, *, starts: bool, stops: bool) -> Event:
    tuplet = replace(_tuplet_of(event), starts=starts, stops=stops)
    return replace(event, value=replace(event.value, tuplet=tuplet))


def _tuplet_of(event: Note | Rest) -> Tuplet:
    tuplet = event.value.tuplet
    if tuplet is None:
        raise ValueError("not in a tuplet")
    return tuplet


def _ratio(tuplet: Tuplet) -> tuple[int, int]:
    return tuplet.actual, tuplet.normal
