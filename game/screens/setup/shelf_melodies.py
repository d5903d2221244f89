"""What the tunes on the shelf ask of a map: how often each pitch is played, and what comes after it."""

from functools import lru_cache

from game.errors import HomefretError
from game.music.melody import melody
from game.music.score import Reading
from game.neck.melody_counts import MelodyCounts, counted_together, melody_counts
from game.tunes.library.library import ShelfEntry, open_entry, shelf

_MOST_KEPT = 2000
"""A tune is opened once while the program runs: it takes a millisecond."""


def shelf_melodies(reading: Reading) -> MelodyCounts:
    """All of them counted together, for a player who reads so. A tune that cannot be opened is left out."""
    return counted_together(_at_reading(entry, reading) for entry in shelf())


def _at_reading(entry: ShelfEntry, reading: Reading) -> MelodyCounts:
    found = _as_written(entry)
    if not entry.counts:
        return found
    up = entry.sounding(reading)[0][0] - entry.counts[0][0]
    if not up:
        return found
    return MelodyCounts(
        {sounding + up: times for sounding, times in found.counts.items()},
        {(before + up, after + up): times for (before, after), times in found.pairs.items()},
    )


@lru_cache(maxsize=_MOST_KEPT)
def _as_written(entry: ShelfEntry) -> MelodyCounts:
    try:
        return melody_counts([melody(open_entry(entry))])
    except HomefretError:
        return MelodyCounts()
