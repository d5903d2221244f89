"""Which signs hold where: the key signature as far as the notes of a take show it, and accidentals in the bar.

A written note only says what the signature does to its own letter. Signatures come in one order, so a few letters tell
the rest: F sharp with C natural is one sharp. What no note shows stays open; among the signatures that fit, those with
fewer signs are likelier.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from game.judging.expected import ExpectedNote
from game.music.keys import MAX_FIFTHS, ORDER_OF_SHARPS, Key
from game.music.pitch import STEPS

Fifths = tuple[int, int]
"""The fewest and the most sharps a signature can have, flats negative; both fit."""

# How much rarer a signature with one sign more is (ours); it only counts while no note of the take shows which.
_ONE_SIGN_MORE = 0.4

ANY_FIFTHS: Fifths = (-MAX_FIFTHS, MAX_FIFTHS)


@dataclass(frozen=True, slots=True)
class Signature:
    """The signatures from `first` on, by the index of the note with which each begins to hold."""

    starts: tuple[int, ...]
    fifths: tuple[Fifths, ...]

    def at(self, index: int) -> Fifths:
        """What can hold at a note."""
        if len(self.starts) == 1:
            return self.fifths[0]
        return self.fifths[max(number for number, start in enumerate(self.starts) if start <= index)]


def signature_of(expected: Sequence[ExpectedNote], shown: Iterable[tuple[str, int]]) -> Signature:
    """The signature of a take. `shown` are the letters of its notes, each with what the signature does to it.

    Where they contradict each other the signature changes: then the notes are gone through in order.
    """
    whole = _narrowed(ANY_FIFTHS, shown)
    if whole is not None:
        return Signature((0,), (whole,))
    starts, fifths, bounds = [0], [], ANY_FIFTHS
    for index, asked in enumerate(expected):
        narrower = _narrowed(bounds, ((asked.note.pitch.step, asked.note.signature),))
        if narrower is None:
            starts.append(index)
            fifths.append(bounds)
            narrower = fifths_showing(asked.note.pitch.step, asked.note.signature)
        bounds = narrower
    return Signature(tuple(starts), (*fifths, bounds))


def _narrowed(bounds: Fifths, shown: Iterable[tuple[str, int]]) -> Fifths | None:
    """What still fits, None when nothing does."""
    fewest, most = bounds
    for step, alter in shown:
        from_here, to_here = fifths_showing(step, alter)
        fewest, most = max(fewest, from_here), min(most, to_here)
    return (fewest, most) if fewest <= most else None


@lru_cache(maxsize=32)
def fifths_showing(step: str, alter: int) -> Fifths:
    """The signatures that do `alter` to a letter."""
    place = ORDER_OF_SHARPS.index(step)
    if alter > 0:
        return place + 1, MAX_FIFTHS
    return (-MAX_FIFTHS, place - MAX_FIFTHS) if alter < 0 else (place - MAX_FIFTHS + 1, place)


@lru_cache(maxsize=256)
def signature_shares(fifths: Fifths) -> tuple[tuple[float, float, float], ...]:
    """For each letter from C on, the shares of the signatures that fit which leave it natural, sharpen and flatten it:
    indexed by the alter, -1 being the last.
    """
    fewest, most = fifths
    keys = [(Key(number), _ONE_SIGN_MORE ** abs(number)) for number in range(fewest, most + 1)]
    whole = sum(weight for _, weight in keys)
    return tuple(
        (_share(keys, step, 0) / whole, _share(keys, step, 1) / whole, _share(keys, step, -1) / whole) for step in STEPS
    )


def _share(keys: Sequence[tuple[Key, float]], step: str, alter: int) -> float:
    return sum(weight for key, weight in keys if key.alter_of(step) == alter)


@dataclass(frozen=True, slots=True)
class Signs:
    """Accidentals printed before a note: by line or space, the alter. `lapsed` no longer hold."""

    in_force: Mapping[int, int]
    lapsed: Mapping[int, int]


def signs_before(expected: Sequence[ExpectedNote], index: int) -> Signs:
    """The accidentals printed in the bar before a note, and in the bar before that one."""
    by_bar: tuple[dict[int, int], dict[int, int]] = ({}, {})
    number = 0
    bar, head = expected[index].note.bar, expected[index].note.heads[0].bar
    while index > 0:
        index -= 1
        note = expected[index].note
        if note.bar != bar or note.heads[0].bar != head:
            number += 1
            if number == len(by_bar):
                break
            bar, head = note.bar, note.heads[0].bar
        if note.shown.sign is not None:
            by_bar[number].setdefault(note.pitch.staff_step, note.shown.sign)
    return Signs(*by_bar)
