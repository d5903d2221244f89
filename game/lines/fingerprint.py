"""A long memory for lines: what tells one from another, short enough to keep by the thousand."""

import hashlib
from collections.abc import Sequence

from game.music.passage import PASSAGE_BARS
from game.music.score import Bar, Note, Score

_DIGITS = 32


def fingerprints(score: Score) -> frozenset[str]:
    """One for the whole line and one for each four bars of it, since passages are what a player gets to know; a pickup
    bar goes with the bars after it.

    They stand for metre, signature, onsets, lengths and pitches as written; 32 hexadecimal digits, the first half of
    SHA-256 (FIPS 180-4).
    """
    texts = [_written(bar) for bar in score.bars]
    first = 1 if score.bars[0].pickup else 0
    stops = range(first + PASSAGE_BARS, len(texts) + 1, PASSAGE_BARS)
    cuts = [texts[0 if stop == stops[0] else stop - PASSAGE_BARS : stop] for stop in stops]
    return frozenset(_digest(part) for part in (texts, *cuts))


def _digest(texts: Sequence[str]) -> str:
    return hashlib.sha256("\n".join(texts).encode("ascii")).hexdigest()[:_DIGITS]


def _written(bar: Bar) -> str:
    notes = " ".join(
        f"{event.onset}:{event.length}:{event.pitch.name}" for event in bar.events if isinstance(event, Note)
    )
    return f"{bar.meter.text} {bar.key.fifths} {notes}"
