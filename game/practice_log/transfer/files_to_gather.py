"""Which files there are to gather from, and by what each is known again."""

import hashlib
import re
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

from game.errors import LogError, reason_of
from game.practice_log.foreign.plain_files import refuse_no_plain_file
from game.practice_log.transfer.contents import ENDING

LOG_ENDING = ".sqlite"
HASH_DIGITS = 16
_MOST_FILES = 10_000
_BLOCK_BYTES = 1_000_000
_HASH_IN_NAME = re.compile(rf"(?:\d{{4}}-\d\d|of-[0-9a-f-]{{36}})-([0-9a-f]{{{HASH_DIGITS}}})\.zip")


class FileToGather(NamedTuple):
    """A file, and whether somebody named it: else it only lies in a folder."""

    path: Path
    named: bool


def files_in(paths: Sequence[Path]) -> Iterator[FileToGather]:
    """The files among these, and the logs and exports in the folders among them, also deeper. Raises `LogError` for a
    folder without end.
    """
    for path in paths:
        if not path.is_dir():
            yield FileToGather(path, named=True)
            continue
        found = 0
        for file in sorted(path.rglob("*")):
            if file.suffix.lower() in (LOG_ENDING, ENDING) and file.is_file() and not file.name.startswith("."):
                found += 1
                if found > _MOST_FILES:
                    raise LogError("gather.too_many_files", folder=path, limit=_MOST_FILES)
                yield FileToGather(file, named=False)


def hash_in_name(path: Path) -> str | None:
    """The hash that the name of a file in a shared folder tells; None for any other file."""
    found = _HASH_IN_NAME.fullmatch(path.name)
    return found[1] if found else None


def hash_of(path: Path) -> str:
    """16 hexadecimal digits of SHA-256 (FIPS 180-4) over a file, a log with its journal. Raises
    `LogError` for what is no plain file or cannot be read.
    """
    told = hashlib.sha256()
    for part in (path, path.with_name(f"{path.name}-wal")):
        if part == path or part.is_file():
            refuse_no_plain_file(part)
            _add(told, part)
    return told.hexdigest()[:HASH_DIGITS]


def _add(told: "hashlib._Hash", path: Path) -> None:
    try:
        with path.open("rb") as file:
            while block := file.read(_BLOCK_BYTES):
                told.update(block)
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=path, reason=reason_of(error)) from error
