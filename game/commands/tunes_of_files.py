"""All tunes in the files and folders that a command names: whatever is wrong with one file, the others are read."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from game.errors import HomefretError, SeveralPartsError, SeveralTunesError
from game.message import Message
from game.music.score import Reading, Score
from game.tunes.library.adding import files_in
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess


@dataclass(frozen=True, slots=True)
class UnreadTune:
    """A file that was not read, and why."""

    path: Path
    fault: Message


def tunes_of(paths: Sequence[Path], read: Reading | None) -> tuple[tuple[Score, ...], tuple[UnreadTune, ...]]:
    """The tunes, and what was not read. Of a book of tunes each is read; of a score with several parts the first, which
    on a printed score is the melody (trade), where there are more files than one.
    """
    found = files_in(paths)
    alone = len(found.files) == 1
    with ReadingProcess() as process:
        came = [one for path in found.files for one in _tunes(path, read, process, alone=alone)]
    unread = [one for one in came if isinstance(one, UnreadTune)]
    unread += [UnreadTune(one.path, one.fault) for one in found.faults]
    return tuple(one for one in came if isinstance(one, Score)), tuple(unread)


def _tunes(
    path: Path, read: Reading | None, process: ReadingProcess, part: int | None = None, *, alone: bool
) -> Iterator[Score | UnreadTune]:
    try:
        yield read_tune(path, part=part, read=read, process=process)
    except SeveralTunesError as several:
        for number in range(1, len(several.names) + 1):
            yield from _tunes(path, read, process, number, alone=alone)
    except SeveralPartsError as several:
        if alone:
            yield UnreadTune(path, several.message)
        else:
            yield from _tunes(path, read, process, 1, alone=alone)
    except HomefretError as fault:
        yield UnreadTune(path, fault.message)
