"""The parent's side of the child that reads files from elsewhere: what is no plain file is refused before it is
opened, and the child is ended when it takes too long.
"""

import importlib.util
import json
import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO

import msgspec

from game.errors import HomefretError, reason_of
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
from game.practice_log.foreign.plain_files import OF_A_LOG, ReadingWords, refuse_no_plain_file
from game.practice_log.foreign.waiting_limit import WaitingLimit
from game.text.clean_text import cleaned

MEMORY_BYTES = 300_000_000
_MB = 1_000_000
_START = (
    "import sys; sys.path[:0] = sys.argv[1:2]; sys.path.extend(sys.argv[2].split(chr(10))); "
    "from game.practice_log.foreign.limited_child import main; "
    "main(*sys.argv[3:5], *map(int, sys.argv[5:8]), *sys.argv[8:])"
)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingLimits:
    """What reading one file may take: seconds of processor, and by the clock that its reader is waited for; bytes of
    memory and of what comes out.
    """

    cpu_s: int
    wall_s: float
    most_bytes: int
    memory_bytes: int = MEMORY_BYTES


def limits_for(size_bytes: int) -> ReadingLimits:
    """The limits for a file of this size: ours, several times what a real log or export of this size takes."""
    return ReadingLimits(
        cpu_s=15 + size_bytes // _MB,
        wall_s=20.0 + size_bytes / _MB,
        most_bytes=min(2_000 * _MB, 40 * _MB + 40 * size_bytes),
    )


def limited_lines(
    path: Path,
    asked: str,
    words: Sequence[str] = (),
    *,
    limits: ReadingLimits | None = None,
    said: ReadingWords = OF_A_LOG,
) -> Iterator[bytes]:
    """What is in a file from elsewhere, as the child answers (`limited_child.ANSWERS`): whole lines, many at a time.
    `words` are sent along with the question.

    Raises `LogError`, or what else is `said`, in one sentence for a file that cannot be read, at its beginning or when
    it is found out.
    """
    size = refuse_no_plain_file(path, said)
    limits = limits or limits_for(size)
    with _started(path, (asked, words), limits, said) as child:
        waiting = WaitingLimit(limits.wall_s, child.kill)
        try:
            assert child.stdout is not None
            yield from _lines(child.stdout, path, limits, said, waiting)
        finally:
            child.kill()


def _started(
    path: Path, question: tuple[str, Sequence[str]], limits: ReadingLimits, said: ReadingWords
) -> "subprocess.Popen[bytes]":
    """-I: nothing from the working folder, PYTHONPATH or the user's site is imported by accident; -S: what it needs is
    said here, and to look for sites takes a tenth of its time.
    """
    asked, words = question
    ours = Path(__file__).resolve().parents[3]
    numbers = (limits.cpu_s, limits.memory_bytes, limits.most_bytes)
    command = [sys.executable, "-I", "-S", "-c", _START, str(ours), "\n".join(_folders_of(said.libraries)), asked]
    try:
        return subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
            [*command, str(path.absolute()), *map(str, numbers), *words],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            # Number libraries reserve memory for each thread, which counts against the limit.
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"},
        )
    except (OSError, ValueError) as error:
        reason = reason_of(error)
        raise said.error(message(said.cannot_be_opened, file=path, reason=reason)) from error


def _folders_of(libraries: Sequence[str]) -> list[str]:
    """Where the libraries lie that the child needs, each folder once, msgspec's first."""
    folders = [Path(msgspec.__file__).resolve().parents[1]]
    for library in libraries:
        spec = importlib.util.find_spec(library)
        if spec is not None and spec.origin is not None:
            above = 2 if spec.submodule_search_locations else 1
            folders.append(Path(spec.origin).absolute().parents[above - 1])
    return list(dict.fromkeys(map(str, folders)))


def _lines(
    pipe: IO[bytes], path: Path, limits: ReadingLimits, said: ReadingWords, waiting: WaitingLimit
) -> Iterator[bytes]:
    room = limits.most_bytes
    while True:
        with waiting:
            kind, content = _frame(pipe)
        if kind == ENDED:
            return
        room -= len(content)
        if kind != LINES or room < 0:
            raise _refusal((kind, content), path, limits, said)
        yield content


def _frame(pipe: IO[bytes]) -> tuple[bytes, bytes]:
    """What comes next: its kind and its content, both empty where the child was ended in the middle of it."""
    kind, length = pipe.read(1), int.from_bytes(pipe.read(LENGTH_BYTES), "big")
    content = pipe.read(length) if length <= MOST_OF_A_FRAME else b""
    return (kind, content) if len(content) == length else (b"", b"")


def _refusal(frame: tuple[bytes, bytes], path: Path, limits: ReadingLimits, said: ReadingWords) -> HomefretError:
    """Why the child stopped. Also what it says is not trusted: it read a hostile file."""
    kind, content = frame
    name = cleaned(path.name)
    if kind == REFUSED:
        with suppress(ValueError, TypeError, RecursionError):
            return said.error(_with_file(from_plain(json.loads(content)), path))
    if kind == FAULT:
        reason = verbatim(cleaned(content.decode(errors="replace"), 120))
        return said.error(message(said.damaged, file=name, reason=reason))
    if kind == MEMORY:
        return said.error("transfer.wants_memory", file=name, limit_mb=limits.memory_bytes // _MB)
    return said.error(message(said.too_slow, file=name, limit_s=round(limits.wall_s)))


def _with_file(said: Message, path: Path) -> Message:
    """The message with the name of the file where it says none, and its path as it was given where it says that."""
    if said.key == "log.by_newer":
        # Of our own log it is told which steps are unknown; a file from elsewhere may name a hundred thousand.
        return message("export.by_newer", file=cleaned(path.name))
    values = {"file": cleaned(path.name), **dict(said.values)}
    if values["file"] == str(path.absolute()):
        values["file"] = str(path)
    return message(said.key, **values)
