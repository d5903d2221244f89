"""Many files into the library, one after another, in one watched reading process: folders, books of tunes, scores.

A fault ends its own file only. Of a file with several tunes each is added; of a score with several parts the first,
which on a printed score is the melody (trade), unless the caller wants to be asked.
"""

import os
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Self

from game.errors import HomefretError, SeveralPartsError, SeveralTunesError, TuneError
from game.message import Message, message
from game.music.score import Reading
from game.text.clean_text import cleaned
from game.tunes.library.import_results import Added, NotAdded
from game.tunes.library.library import ShelfEntry, add
from game.tunes.part_names import part_told
from game.tunes.sandbox.reading_process import ReadingProcess

# More than anybody drops on purpose: the whole disk by accident.
MAX_FILES = 5_000
MAX_DEPTH = 8
# The processor time of the reading process is counted over its life.
_FILES_A_PROCESS = 500
# What a folder holds besides tunes is passed over by its name; what is dropped by itself is looked at.
TUNE_NAMES = frozenset({".xml", ".musicxml", ".mxl", ".abc", ".mid", ".midi", ".kar"})


class Adder:
    """Adds files with one reading process, started when first needed; a context manager."""

    def __init__(self, *, folder: Path | None = None, read: Reading | None = None, asks: bool = False) -> None:
        self._folder = folder
        self._read = read
        self._asks = asks
        self._process: ReadingProcess | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """End the reading process."""
        if self._process is not None:
            self._process.close()
            self._process = None

    def added(self, path: Path, part: int | None = None) -> Iterator[Added | NotAdded]:
        """Add a file; yields once for each tune of it. Raises nothing: a fault is part of the answer."""
        try:
            yield Added(path=path, entry=self._entry(path, part))
        except SeveralTunesError as several:
            for number in range(1, min(len(several.names), MAX_FILES) + 1):
                yield from self.added(path, number)
        except SeveralPartsError as several:
            if self._asks:
                yield NotAdded(path=path, fault=several.message, names=several.names)
                return
            for one in self.added(path, 1):
                yield replace(one, note=_first_of(several.names, path)) if isinstance(one, Added) else one
        except HomefretError as fault:
            yield NotAdded(path=path, fault=fault.message)
        except OSError as fault:
            reason = fault.strerror or str(fault)
            fault_told = message("shelf.cannot_be_added", file=cleaned(path.name), reason=reason)
            yield NotAdded(path=path, fault=fault_told)

    def _entry(self, path: Path, part: int | None) -> ShelfEntry:
        if self._process is not None and self._process.ended:
            self.close()
        if self._process is None:
            self._process = ReadingProcess(files=_FILES_A_PROCESS)
        return add(path, part=part, read=self._read, folder=self._folder, process=self._process)


def _first_of(names: tuple[str, ...], path: Path) -> Message:
    first = part_told(names[0])
    return message("shelf.first_part_read", file=cleaned(path.name), count=len(names), part=first)


def files_in(paths: Sequence[Path]) -> tuple[Path, ...]:
    """The files of `paths` in order, folders opened: what is in them by name, hidden things and strange kinds left
    out, links to folders not followed.

    Raises `TuneError` when there are more than 5,000.
    """
    found: list[Path] = []
    for path in paths:
        for file in _walked(path) if path.is_dir() else (path,):
            found.append(file)
            if len(found) > MAX_FILES:
                raise TuneError("tune.too_many_files", folder=cleaned(path.name), limit=MAX_FILES)
    return tuple(found)


def _walked(folder: Path) -> Iterator[Path]:
    depth_of_folder = len(folder.parts)
    for here, folders, names in os.walk(folder):
        at = Path(here)
        deeper = len(at.parts) - depth_of_folder < MAX_DEPTH
        folders[:] = sorted(name for name in folders if not name.startswith(".")) if deeper else []
        for name in sorted(names):
            if not name.startswith(".") and Path(name).suffix.lower() in TUNE_NAMES:
                yield at / name
