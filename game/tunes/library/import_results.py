"""What became of files that were added to the library, or dropped on the window: values, for others to put in words."""

from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from game.message import Message
from game.tunes.library.shelf_entry import ShelfEntry


@dataclass(frozen=True, slots=True, kw_only=True)
class Added:
    """A file, or one tune of a file, that is on the shelf now. `note` is a sentence about what was chosen."""

    path: Path
    entry: ShelfEntry
    note: Message | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NotAdded:
    """A file, or one tune of a file, that was kept off the shelf by a fault. `names` are the parts to choose from,
    where that is the fault.
    """

    path: Path
    fault: Message
    names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ImportStarted:
    """A file or folder is read from now on, after those dropped before it."""

    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportProgress:
    """The file that is being read now, the how-manieth of how many, counted from 1."""

    path: Path
    number: int
    count: int


@dataclass(frozen=True, slots=True)
class PartsToChoose:
    """A file that waits to be told which of its parts is the melody; parts count from 1."""

    path: Path
    names: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ImportDone:
    """One dropping that brought tunes: `entries` on the shelf now, at least one, `files` looked into, the `faults` of
    those that were refused, `notes` on what was chosen, and how many files were left `unread` by the player's wish.
    """

    entries: tuple[ShelfEntry, ...]
    files: int
    faults: tuple[Message, ...] = ()
    notes: tuple[Message, ...] = ()
    unread: int = 0

    @property
    def several(self) -> bool:
        """Whether this was more than one file, or a book of tunes: then none of them is opened by itself."""
        return self.files > 1 or len(self.entries) > 1


@dataclass(frozen=True, slots=True)
class ImportRefused:
    """One dropping that brought nothing, and why not; without `faults` there was nothing to read, or all of it was left
    `unread` by the player's wish.
    """

    faults: tuple[Message, ...] = ()
    unread: int = 0


ImportNews: TypeAlias = ImportProgress | PartsToChoose | ImportDone | ImportRefused
