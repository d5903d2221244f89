"""The one door for tune files: whatever the format, a file becomes a Score or one clear sentence."""

from pathlib import Path

from game.music.score import Reading, Score
from game.tunes.sandbox.reading_process import ReadingProcess


def read_tune(
    file: Path | bytes,
    *,
    part: int | None = None,
    read: Reading | None = None,
    name: str = "tune",
    process: ReadingProcess | None = None,
) -> Score:
    """Read a tune from a path, or from the bytes of a file called `name`.

    `part` counts from 1. `read` is the player's choice of octave, None for the guitar's. `process` is a
    reading process to ask, for many files in a row; without it each file has its own. Takes about a second,
    nearly all of it the start of that process: never call it on the way to the first frame.

    Raises `SeveralPartsError` when the file has several parts and `part` is None, `TuneError` for everything
    else.
    """
    if process is not None:
        return process.read(file, part=part, read=read, name=name)
    with ReadingProcess() as single:
        return single.read(file, part=part, read=read, name=name)
