"""Triplets that lie across a beat: quarters in the time of two beats, or three notes begun off the beat. Pure.

What else crosses a beat is cut there and tied (`game.music.barring`); of a triplet each note keeps its one value, for
its bracket shows where it begins and ends.
"""

from collections.abc import Sequence
from fractions import Fraction

from game.music.note_values import value_of

_ACTUAL, _NORMAL = 3, 2


def in_triplet_groups(spans: Sequence[tuple[Fraction, Fraction]]) -> list[bool]:
    """Of each note, from its start to its end in a bar, whether it is part of a group of triplets as a whole.

    A group begins and ends on a plain part of the beat, without gaps, and all its notes are single triplet values.
    """
    inside = [False] * len(spans)
    first = 0
    while first < len(spans):
        last = _last_of_group(spans, first)
        if last is None:
            first += 1
            continue
        inside[first : last + 1] = [True] * (last + 1 - first)
        first = last + 1
    return inside


def _last_of_group(spans: Sequence[tuple[Fraction, Fraction]], first: int) -> int | None:
    """The last note of the group that begins with `first`, None where none does."""
    if not _is_plain(spans[first][0]):
        return None
    for index in range(first, len(spans)):
        start, end = spans[index]
        joined = index == first or start == spans[index - 1][1]
        if not joined or not _is_triplet(end - start):
            return None
        if _is_plain(end):
            return index
    return None


def _is_plain(place: Fraction) -> bool:
    """Whether a place is a half, a quarter, an eighth of a beat, or so on."""
    return place.denominator.bit_count() == 1


def _is_triplet(length: Fraction) -> bool:
    value = value_of(length)
    tuplet = value.tuplet if value else None
    return tuplet is not None and (tuplet.actual, tuplet.normal) == (_ACTUAL, _NORMAL)
