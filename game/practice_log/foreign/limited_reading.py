"""The parent's side of the child that reads files from elsewhere: what is no plain file is refused before it is
opened, and the child is ended when it takes too long.
"""

import json
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

import msgspec

from game.errors import LogError
from game.message import Message, from_plain, message, verbatim
from game.practice_log.foreign.limited_child import (
    ENDED,
    FAULT,
    LENGTH_BYTES,
    LINES,
    MEMORY,
    MOST_OF_A_FRAME,
    REFUSED,
)
from game.text.clean_text import cleaned
from game.text.no_file_words import kind_of_no_file

MEMORY_BYTES = 300_000_000
_MB = 1_000_000
_ZIP = b"PK"
_START = (
    "import sys; sys.path[:0] = sys.argv[1:2]; sys.path.extend(sys.argv[2:3]); "
    "from game.practice_log.foreign.limited_child import main; main(*sys.argv[3:5], *map(int, sys.argv[5:8]))"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingLimits:
    """What reading one file may take: seconds of processor and by the clock, and bytes of what comes out of it."""

    cpu_s: int
    wall_s: float
    most_bytes: int


def limits_for(size_bytes: int) -> ReadingLimits:
    """The limits for a file of this size: ours, several times what a real log or export of this size takes."""
    return ReadingLimits(
        cpu_s=15 + size_bytes // _MB,
        wall_s=20.0 + size_bytes / _MB,
        most_bytes=min(2_000 * _MB, 40 * _MB + 40 * size_bytes),
    )


def refuse_no_plain_file(path: Path) -> int:
    """The size of a file in bytes. Raises `LogError` for what is none and is never opened: a pipe might never end."""
    try:
        found = path.stat()
    except (OSError, ValueError) as error:
        if isinstance(error, FileNotFoundError):
            raise LogError("backup.no_such_file", file=path) from error
        reason = getattr(error, "strerror", None) or error
        raise LogError("transfer.cannot_be_opened", file=path, reason=reason) from error
    kind = kind_of_no_file(found.st_mode)
    if kind is not None:
        raise LogError("transfer.no_plain_file", file=path, kind=message(kind))
    return found.st_size


def is_packed(path: Path) -> bool:
    """Whether a file is a zip, as exports are, by its first bytes. Raises `LogError` for what is no plain file."""
    refuse_no_plain_file(path)
    try:
        with path.open("rb") as file:
            return file.read(len(_ZIP)) == _ZIP
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=path, reason=error.strerror or error) from error


def limited_lines(path: Path, asked: str, *, limits: ReadingLimits | None = None) -> Iterator[bytes]:
    """What is in a file from elsewhere, as the child answers (`limited_child.ANSWERS`): whole lines, many at a time.

    Raises `LogError` in one sentence for a file that cannot be read, at its beginning or when it is found out.
    """
    size = refuse_no_plain_file(path)
    limits = limits or limits_for(size)
    with _started(path, asked, limits) as child:
        alarm = threading.Timer(limits.wall_s, child.kill)
        alarm.daemon = True
        alarm.start()
        try:
            assert child.stdout is not None
            yield from _lines(child.stdout, path, limits)
        finally:
            alarm.cancel()
            child.kill()


def _started(path: Path, asked: str, limits: ReadingLimits) -> "subprocess.Popen[bytes]":
    """-I: nothing from the working folder, PYTHONPATH or the user's site is imported by accident."""
    ours, others = Path(__file__).resolve().parents[3], Path(msgspec.__file__).resolve().parents[1]
    numbers = (limits.cpu_s, MEMORY_BYTES, limits.most_bytes)
    command = [sys.executable, "-I", "-c", _START, str(ours), str(others), asked, str(path.absolute())]
    try:
        return subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
            [*command, *map(str, numbers)],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
        )
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise LogError("transfer.cannot_be_opened", file=path, reason=reason) from error


def _lines(pipe: IO[bytes], path: Path, limits: ReadingLimits) -> Iterator[bytes]:
    room = limits.most_bytes
    while True:
        kind, content = _frame(pipe)
        if kind == ENDED:
            return
        room -= len(content)
        if kind != LINES or room < 0:
            raise _refusal(kind, content, path, limits)
        yield content


def _frame(pipe: IO[bytes]) -> tuple[bytes, bytes]:
    """What comes next: its kind and its content, both empty where the child was ended in the middle of it."""
    kind, length = pipe.read(1), int.from_bytes(pipe.read(LENGTH_BYTES), "big")
    content = pipe.read(length) if length <= MOST_OF_A_FRAME else b""
    return (kind, content) if len(content) == length else (b"", b"")


def _refusal(kind: bytes, content: bytes, path: Path, limits: ReadingLimits) -> LogError:
    """Why the child stopped. Also what it says is not trusted: it read a hostile file."""
    name = cleaned(path.name)
    if kind == REFUSED:
        with suppress(ValueError, TypeError, RecursionError):
            return LogError(_with_file(from_plain(json.loads(content)), path))
    if kind == FAULT:
        return LogError("export.damaged", file=name, reason=verbatim(cleaned(content.decode(errors="replace"), 120)))
    if kind == MEMORY:
        return LogError("transfer.wants_memory", file=name, limit_mb=MEMORY_BYTES // _MB)
    return LogError("transfer.too_slow", file=name, limit_s=round(limits.wall_s))


def _with_file(said: Message, path: Path) -> Message:
    """The message with the name of the file where it says none, and its path as it was given where it says that."""
    values = {"file": cleaned(path.name), **dict(said.values)}
    if values["file"] == str(path.absolute()):
        values["file"] = str(path)
    return message(said.key, **values)
