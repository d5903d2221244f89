"""ABC and MIDI files read by ourselves, in the process that calls: `game.tunes.read_tune` lets the child do it."""

from game.music.score import Reading, Score
from game.tunes.abc.abc_tune import read_abc
from game.tunes.midi.midi_tune import read_midi
from game.tunes.sandbox.tune_source import TuneSource

_READERS = {"abc": read_abc, "midi": read_midi}


def read_unwatched(source: TuneSource, part: int | None, read: Reading | None) -> Score:
    """Read a tune of one of these formats. Raises `TuneError`, and whatever a fault of ours raises."""
    return _READERS[source.file_format](source, part, read)
