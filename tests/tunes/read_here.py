"""ABC and MIDI read in the process of the test, by the same functions as in the watched process, without its start."""

from game.tunes.sandbox.reading_child import read_source
from game.tunes.sandbox.tune_source import source_of


def read_here(content: bytes, *, name: str = "this file", part=None, read=None):
    """As `game.tunes.read_tune.read_tune` reads these bytes."""
    return read_source(source_of(content, name), part, read)
