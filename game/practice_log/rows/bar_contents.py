"""What bars hold, told from the notes that were asked: the same in old logs and new ones, in whatever passage a bar
stood.

A bar is known by its metre and by what sounds in it: where each note begins in the bar, how long it is there, and the
written pitch. Of a note that is tied over a bar line each bar holds its own part, so that it does not matter where a
passage was cut.
"""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

from game.judging.tolerance import BarSpan, bar_spans
from game.music.meter import Meter
from game.music.passage import Passage
from game.practice_log.rows.row_values import fraction

_DIGITS = 32
EMPTY = "0" * _DIGITS
"""The key of a bar in which nothing sounds."""

_NO_SPAN = BarSpan(start=Fraction(0), meter=Meter())


class AskedHead(NamedTuple):
    """A note as it was asked: the bar of its first head, from 0, and onset (from the start of the passage) and length
    in quarter notes as text, "7/2"; its written pitch.
    """

    bar: int
    onset: str
    length: str
    written: str


@dataclass(frozen=True, slots=True)
class Stretch:
    """Bars of a tune: where the first stands in the written-out tune, and the key of each."""

    start: int
    bars: tuple[str, ...]

    @property
    def stop(self) -> int:
        """Where the bar after the last stands."""
        return self.start + len(self.bars)

    def shared(self, other: "Stretch") -> tuple[int, int] | None:
        """From which of these bars to which (counted here from 0) the other stretch holds them too: all that stand at
        the same place in both, where they are the same music and not all of them empty; or all of them, where both are
        the same music wherever they stand. None where nothing is shared.
        """
        if self.bars == other.bars and any(bar != EMPTY for bar in self.bars):
            return 0, len(self.bars)
        start, stop = max(self.start, other.start), min(self.stop, other.stop)
        here = self.bars[max(0, start - self.start) : max(0, stop - self.start)]
        there = other.bars[max(0, start - other.start) : max(0, stop - other.start)]
        if here != there or all(bar == EMPTY for bar in here):
            return None
        return start - self.start, stop - self.start


def stretch_of(passage: Passage) -> Stretch:
    """The bars of a passage."""
    heads = (AskedHead(note.heads[0].bar, str(note.onset), str(note.length), note.pitch.name) for note in passage.notes)
    return Stretch(passage.start, bar_keys(heads, bar_spans(passage.bars), len(passage.bars)))


def bar_keys(notes: Iterable[AskedHead], spans: Sequence[BarSpan], count: int) -> tuple[str, ...]:
    """The key of each of `count` bars, 32 hexadecimal digits: the first half of SHA-256 (FIPS 180-4). It ends up in
    files that last: what it is made of must not change.
    """
    bars: list[list[str]] = [[] for _ in range(count)]
    where = [*spans, *[_NO_SPAN] * (count - len(spans))]
    # As text, by which pieces are found again far quicker than by fractions.
    bounds = [(str(span.start), str(span.start + span.meter.bar_length)) for span in where]
    for note in notes:
        _put_pieces(bars, bounds, note)
    return tuple(_key(pieces, span.meter) for pieces, span in zip(bars, where, strict=False))


def _put_pieces(bars: list[list[str]], bounds: Sequence[tuple[str, str]], note: AskedHead) -> None:
    """Write down a note in its bar, and what is tied over in the bars after it."""
    bar, onset, length = note.bar, note.onset, note.length
    while 0 <= bar < len(bars):
        start, stop = bounds[bar]
        place, here, left = _piece(onset, length, start, stop)
        bars[bar].append(f"{place}:{here}:{note.written}")
        if not left:
            return
        bar, onset, length = bar + 1, stop, left


@lru_cache(maxsize=65536)
def _piece(onset: str, length: str, bar_start: str, bar_stop: str) -> tuple[str, str, str]:
    """Of a note: its place in the bar, its length there, and the length that is left (empty for none). The same few
    come again and again.
    """
    begins, lasts, stop = fraction(onset), fraction(length), Fraction(bar_stop)
    here = lasts if begins + lasts <= stop or begins >= stop else stop - begins
    left = lasts - here
    return str(begins - Fraction(bar_start)), str(here), str(left) if left else ""


def _key(pieces: list[str], meter: Meter) -> str:
    if not pieces:
        return EMPTY
    text = " ".join((meter.text, *pieces))
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:_DIGITS]
