"""All tunes in the files and folders that a command names: whatever is wrong with one file, the others are read.

Of many files what is in the library already is taken from there, found again by what the file holds and not by its
name: a tune comes as its player has it, in the order of play that was chosen. Many files are read by as many processes
as the computer has processors, each in turn the next file, and told in the order of the files.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from queue import SimpleQueue

from game.commands.reading_progress import tell_nobody
from game.errors import HomefretError, SeveralPartsError, SeveralTunesError
from game.message import Message
from game.music.score import Reading, Score
from game.tunes.library.adding import files_in
from game.tunes.library.library import kept_score
from game.tunes.read_tune import read_tune
from game.tunes.sandbox.reading_process import ReadingProcess

_FOR_EACH_READER = 8
"""So many files are worth another process: it takes half a second to begin. Ours."""
_MOST_READERS = 4
"""Each may take a gigabyte of memory."""


@dataclass(frozen=True, slots=True)
class UnreadTune:
    """A file that was not read, and why."""

    path: Path
    fault: Message


def tunes_of(
    paths: Sequence[Path], read: Reading | None, told: Callable[[int, int], None] = tell_nobody
) -> tuple[tuple[Score, ...], tuple[UnreadTune, ...]]:
    """The tunes, and what was not read. Of a book of tunes each is read; of a score with several parts the first, which
    on a printed score is the melody (trade), where there are more files than one. `told` hears which file is read now,
    counted from 1, of how many, and at the end one number more.
    """
    found = files_in(paths)
    count = len(found.files)
    told(1, count)
    came: list[Score | UnreadTune] = []
    for number, tunes in enumerate(_by_file(found.files, read), start=1):
        came += tunes
        told(number + 1, count)
    unread = [one for one in came if isinstance(one, UnreadTune)]
    unread += [UnreadTune(one.path, one.fault) for one in found.faults]
    return tuple(one for one in came if isinstance(one, Score)), tuple(unread)


def _by_file(paths: Sequence[Path], read: Reading | None) -> Iterator[list[Score | UnreadTune]]:
    """What came of each file, in their order."""
    readers = max(1, min(os.cpu_count() or 1, _MOST_READERS, len(paths) // _FOR_EACH_READER))
    with ExitStack() as open_processes:
        free: SimpleQueue[ReadingProcess] = SimpleQueue()
        for _ in range(readers):
            free.put(open_processes.enter_context(ReadingProcess()))

        def tunes_in(path: Path) -> list[Score | UnreadTune]:
            process = free.get()
            try:
                return list(_tunes(path, read, process) if len(paths) == 1 else _kept_or_read(path, read, process))
            finally:
                free.put(process)

        threads = ThreadPoolExecutor(readers)
        # Whoever is interrupted waits for the files under way, and for no other.
        open_processes.callback(threads.shutdown, cancel_futures=True)
        yield from threads.map(tunes_in, paths)


def _kept_or_read(path: Path, read: Reading | None, process: ReadingProcess) -> Iterator[Score | UnreadTune]:
    try:
        names = process.names_in(path, read=read)
    except HomefretError as fault:
        yield UnreadTune(path, fault.message)
        return
    for number, name in enumerate(names, start=1):
        kept = kept_score(name)
        if kept is not None:
            yield kept
        else:
            part = number if len(names) > 1 else None
            yield from _tunes(path, read, process, part, first_of_parts=True)


def _tunes(
    path: Path, read: Reading | None, process: ReadingProcess, part: int | None = None, *, first_of_parts: bool = False
) -> Iterator[Score | UnreadTune]:
    try:
        yield read_tune(path, part=part, read=read, process=process)
    except SeveralTunesError as several:
        for number in range(1, len(several.names) + 1):
            yield from _tunes(path, read, process, number, first_of_parts=first_of_parts)
    except SeveralPartsError as several:
        if first_of_parts:
            yield from _tunes(path, read, process, 1, first_of_parts=True)
        else:
            yield UnreadTune(path, several.message)
    except HomefretError as fault:
        yield UnreadTune(path, fault.message)
