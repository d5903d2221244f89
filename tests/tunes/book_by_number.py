"""The tunes of the book in the order in which they came into it: samples stay the same when its order changes."""

from game.tunes.library.library import shipped_entries
from game.tunes.library.shelf_entry import ShelfEntry


def book_by_number() -> tuple[ShelfEntry, ...]:
    """All of them, those that have left the book too, by the number their files begin with."""
    return tuple(sorted(shipped_entries(), key=lambda entry: int(entry.name.partition("-")[0])))
