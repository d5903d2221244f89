"""What lies in a teacher's folder: exports, logs and shared folders, and the marks of who was erased.

Links are not followed, what begins with a dot or is still on its way is passed over, and no file is opened here that is
none of ours by its ending.
"""

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path, PurePath

from game.errors import LogError, reason_of
from game.message import Message, message
from game.practice_log.classes.class_file import is_class_file
from game.practice_log.transfer.contents import CONTENTS, ENDING, ENTRIES
from game.practice_log.transfer.erased import is_mark
from game.practice_log.transfer.files_to_gather import LOG_ENDING
from game.text.clean_text import has_ending

DEEPEST = 8
"""Folders within folders: a shared folder of a student of a class of a school has five."""

MOST_FILES = 100_000
"""Four hundred students with three computers each, who share for six years, have fewer."""

_IN_CLOUD = ".icloud"
"""How a Mac ends the name of what it keeps in the cloud alone, with a dot before it (trade)."""

MOST_TEXTS = 2000
"""Of texts beside them; what comes behind these in the order of paths is passed over."""


@dataclass(frozen=True, slots=True)
class FoundFile:
    """A file by its path within the folder, as text with slashes; its size, and when it changed last (nanoseconds since
    1970). The journal of a log counts with it.
    """

    path: Path
    name: str
    size_bytes: int
    changed_ns: int


@dataclass(frozen=True, slots=True)
class FoundInFolder:
    """The files in the order of their names; and the names of the marks of who was erased, each with the folders in
    which it lies, as text with slashes, empty for the first: in `marks` those that count there, in `not_ours` those
    that somebody else put there. `faults` is what is to be said of what lies there and is no file that can be read,
    though a student handed it in.
    """

    files: tuple[FoundFile, ...]
    marks: Mapping[str, frozenset[str]]
    not_ours: Mapping[str, frozenset[str]]
    faults: tuple[Message, ...] = ()

    def is_marked(self, mark: str, name: str) -> bool:
        """Whether a mark counts for a file of this name: one counts in the folder it lies in and those below, and
        nowhere else. Who may write into one folder erases nobody in another.
        """
        folders = self.marks.get(mark, frozenset())
        return any(not folder or name.startswith(f"{folder}/") for folder in folders)


def found_in(folder: Path, passed_over: Path) -> FoundInFolder:
    """What lies in a folder and those below, but for one file. Raises `LogError` for no folder, for one that nobody can
    read, or without end.
    """
    if not folder.is_dir():
        raise LogError("report.no_such_folder", folder=folder)
    files: list[FoundFile] = []
    marks: dict[str, frozenset[str]] = {}
    not_ours: dict[str, frozenset[str]] = {}
    faults: list[Message] = []
    for entry in _entries(folder, folder, DEEPEST):
        if is_mark(Path(entry.name)):
            lies_in = _name(Path(entry.path), folder).rpartition("/")[0]
            found = marks if is_of_its_folder(Path(entry.path)) else not_ours
            found[entry.name] = found.get(entry.name, frozenset()) | {lies_in}
        elif (fault := _not_as_handed_in(Path(entry.path))) is not None:
            faults.append(fault)
        elif (file := _found(entry, folder, passed_over)) is not None:
            files.append(file)
            if len(files) > MOST_FILES:
                raise LogError("gather.too_many_files", folder=folder, limit=MOST_FILES)
    return FoundInFolder(tuple(sorted(files, key=lambda file: file.name)), marks, not_ours, tuple(faults))


def is_of_its_folder(mark: Path) -> bool:
    """Whether a mark belongs to whoever owns the folder it lies in, to root, or to whoever asks: who may merely write
    there erases nobody.
    """
    try:
        owner, may = mark.lstat().st_uid, {0, mark.parent.stat().st_uid}
    except OSError:
        return False
    return owner in may or owner == getattr(os, "geteuid", lambda: owner)()


def _not_as_handed_in(path: Path) -> Message | None:
    """What is said of an export that some programs unpack by themselves, and of one that a cloud has not fetched."""
    if path.name == CONTENTS and path.with_name(ENTRIES).is_file():
        return message("gather.unpacked", folder=path.parent.name)
    if path.suffix.lower() == PurePath(ENTRIES).suffix and path.name != ENTRIES:
        return message("gather.not_packed", file=path.name)
    if path.name.endswith((f"{ENDING}{_IN_CLOUD}", f"{LOG_ENDING}{_IN_CLOUD}")):
        return message("gather.in_cloud", file=path.name.removesuffix(_IN_CLOUD).removeprefix("."))
    return None


def texts_in(folder: Path, ending: str) -> tuple[tuple[str, Path], ...]:
    """The files of an ending in a folder and those below, each with the folder it lies in, as text with slashes, empty
    for the first; in the order of their paths. Links are passed over: what they lead to is nobody's to hand in. Raises
    `LogError` for a folder that nobody can read.
    """
    found = [
        (path.parent.relative_to(folder).as_posix().removeprefix("."), path)
        for entry in _entries(folder, folder, DEEPEST)
        if has_ending(path := Path(entry.path), ending) and not entry.is_symlink()
    ]
    return tuple(sorted(found)[:MOST_TEXTS])


def _entries(within: Path, folder: Path, deep: int) -> Iterator["os.DirEntry[str]"]:
    try:
        entries = sorted(os.scandir(within), key=lambda entry: entry.name)
    except OSError as error:
        if within == folder:
            raise LogError("transfer.cannot_be_opened", file=folder, reason=reason_of(error)) from error
        return
    for entry in entries:
        if entry.name.startswith(".") and not entry.name.endswith(_IN_CLOUD):
            continue
        if entry.is_dir(follow_symlinks=False):
            if deep:
                yield from _entries(Path(entry.path), folder, deep - 1)
        else:
            yield entry


def _found(entry: "os.DirEntry[str]", folder: Path, passed_over: Path) -> FoundFile | None:
    path = Path(entry.path)
    if path.suffix.lower() not in (ENDING, LOG_ENDING):
        return None
    name = _name(path, folder)
    try:
        if path.suffix.lower() == LOG_ENDING and entry.is_file() and (_is(path, passed_over) or is_class_file(path)):
            return None
        parts = [part.stat() for part in (path, path.with_name(f"{path.name}-wal")) if part == path or part.is_file()]
    except OSError:
        # Whoever reads it will say why not.
        return FoundFile(path, name, -1, -1)
    size = sum(part.st_size for part in parts)
    return FoundFile(path, name, size, max(part.st_mtime_ns for part in parts))


def _name(path: Path, folder: Path) -> str:
    """A path within a folder; one that is no UTF-8 has a name all the same."""
    return os.fsencode(path.relative_to(folder).as_posix()).decode(errors="backslashreplace")


def _is(path: Path, other: Path) -> bool:
    return other.exists() and path.samefile(other)
