"""Many files into the library, one after another, in one watched reading process: folders, books of tunes, scores.

A fault ends its own file only. Of a file with several tunes each is added; of a score with several parts the first,
which on a printed score is the melody (trade), unless the caller wants to be asked.
"""

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from pathlib import Path
from types import TracebackType
from typing import Self

from game.errors import HomefretError, SeveralPartsError, SeveralTunesError, reason_of
from game.message import Message, message, verbatim
from game.music.score import Reading
from game.text.clean_text import cleaned, cleaned_name
from game.tunes.library.import_results import Added, NotAdded
from game.tunes.library.library import add
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.part_names import part_told
from game.tunes.sandbox.reading_process import ReadingProcess

# More than anybody drops on purpose: the whole disk by accident.
MAX_FILES = 5_000
MAX_DEPTH = 8
# What a folder holds besides tunes is passed over by its name; what is dropped by itself is looked at.
TUNE_NAMES = frozenset({".xml", ".musicxml", ".mxl", ".abc", ".mid", ".midi", ".kar"})


class Adder:
    """Adds files with one reading process, started when first needed; a context manager."""

    def __init__(self, *, folder: Path | None = None, read: Reading | None = None, asks: bool = False) -> None:
        self._folder = folder
        self._read = read
        self._asks = asks
        self._process = ReadingProcess()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """End the reading process."""
        self._process.close()

    def interrupt(self) -> None:
        """End the reading of the file at hand, from another thread; it is then not added."""
        self._process.interrupt()

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
        except Exception as fault:  # noqa: BLE001 - whatever nobody foresaw ends one file, and none of the others
            foreseen = isinstance(fault, OSError)
            reason = reason_of(fault) if foreseen else verbatim(cleaned(f"{type(fault).__name__}: {fault}", 100))
            said = message("shelf.cannot_be_added", file=cleaned_name(path), reason=reason)
            yield NotAdded(path=path, fault=said)

    def _entry(self, path: Path, part: int | None) -> ShelfEntry:
        return add(path, part=part, read=self._read, folder=self._folder, process=self._process)


def _first_of(names: tuple[str, ...], path: Path) -> Message:
    first = part_told(names[0])
    return message("shelf.first_part_read", file=cleaned_name(path), count=len(names), part=first)


@dataclass(frozen=True, slots=True)
class FoundFiles:
    """What there is to read, in order, and what could not be looked into."""

    files: tuple[Path, ...]
    faults: tuple[NotAdded, ...]


def files_in(paths: Sequence[Path], goes_on: Callable[[], bool] = lambda: True) -> FoundFiles:
    """The files of `paths` in order, folders opened: what is in them by name, hidden things and strange kinds left
    out, links to folders not followed. Of what cannot be looked into, or comes to more than 5,000 with those before,
    nothing is read; the others are. Where it `goes_on` no more nothing else is looked for: a disk is large.
    """
    files: list[Path] = []
    faults: list[NotAdded] = []
    for path in paths:
        try:
            found = list(islice(_found(path, faults, goes_on), MAX_FILES + 1))
        except (OSError, ValueError) as error:
            faults.append(_not_looked_into(path, error))
            continue
        if len(files) + len(found) > MAX_FILES:
            said = message("tune.too_many_files", folder=cleaned_name(path), limit=MAX_FILES)
            faults.append(NotAdded(path=path, fault=said))
        else:
            files += found
    return FoundFiles(tuple(files), tuple(faults))


def _found(path: Path, faults: list[NotAdded], goes_on: Callable[[], bool]) -> Iterator[Path]:
    if path.is_dir():
        yield from _walked(path, faults, goes_on)
    else:
        yield path


def _walked(folder: Path, faults: list[NotAdded], goes_on: Callable[[], bool]) -> Iterator[Path]:
    depth_of_folder = len(folder.parts)

    def unreadable(error: OSError) -> None:
        # A folder that went away while its neighbours were looked through, or is somebody else's.
        faults.append(_not_looked_into(Path(error.filename or folder), error))

    for here, folders, names in os.walk(folder, onerror=unreadable):
        if not goes_on():
            return
        at = Path(here)
        deeper = len(at.parts) - depth_of_folder < MAX_DEPTH
        folders[:] = sorted(name for name in folders if not name.startswith(".")) if deeper else []
        for name in sorted(names):
            if not name.startswith(".") and Path(name).suffix.lower() in TUNE_NAMES:
                yield at / name


def _not_looked_into(path: Path, error: OSError | ValueError) -> NotAdded:
    reason = reason_of(error)
    return NotAdded(path=path, fault=message("shelf.folder_unreadable", folder=cleaned_name(path), reason=reason))
