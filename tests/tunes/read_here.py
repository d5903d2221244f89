"""ABC and MIDI read in the process of the test, by the same functions as in the watched process, without its start."""

from game.tunes.source import source_of
from game.tunes.unwatched import read_unwatched


def read_here(content: bytes, *, name: str = "this file", part=None, read=None):
    """As `game.tunes.reading.read_tune` reads these bytes."""
    return read_unwatched(source_of(content, name), part, read)
