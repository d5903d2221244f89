"""Shipped tunes that were corrected, as they stood before: old logs know their bars by what stood in them then."""

from pathlib import Path

from game.errors import TuneError, reason_of
from game.music.score import Score
from game.paths import shipped
from game.tunes.library.compact import unpack
from game.tunes.library.library import TUNE_ENDING
from game.tunes.library.shelf_entry import ShelfEntry


def former_forms() -> Path:
    """The folder of the compact forms of before, each by the name of its entry on the shelf."""
    return shipped("content", "tunes", "former")


def as_before(entry: ShelfEntry) -> Score | None:
    """A tune as it stood before it was corrected; None for one that never was, and for one of the player's own.

    Bar for bar the same tune, cut into the same pages. Raises `TuneError` when its file is damaged.
    """
    home = former_forms() / f"{entry.name}{TUNE_ENDING}"
    if not entry.shipped or not home.exists():
        return None
    try:
        return unpack(home.read_bytes())
    except OSError as fault:
        raise TuneError("tune.library_file_unreadable", title=entry.title, reason=reason_of(fault)) from fault
