"""The child that reads files from elsewhere: limits first, then the file, then what is in it as lines until it is
through.

It answers on its standard output in frames: a byte that says what follows, four bytes of length (big-endian) and that
many bytes. `L` are whole lines, each with its end; `R` is the message of a `HomefretError` in JSON, `F` what the
reading broke down with, `M` says that memory ran out, and `E` that this was all: without it something is missing.

What the lines are, a function says that is named in `ANSWERS`: given a path, and whatever words were sent along, it
yields one or more whole lines at a time. A file is never run: the functions read plain values out of it.
"""

import json
import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import IO

from game.errors import HomefretError, LogError
from game.message import to_plain

LINES, REFUSED, FAULT, MEMORY, ENDED = b"L", b"R", b"F", b"M", b"E"
LENGTH_BYTES = 4
MOST_OF_A_FRAME = 32_000_000
"""Bytes: some thousand rows of ours, or one that is far longer than any of ours."""

ANSWERS = {
    "rows": "game.practice_log.foreign.rows_of_file:rows_of_file",
    "documents": "game.practice_log.foreign.documents_of_file:documents_of_file",
    "export": "game.practice_log.foreign.documents_of_file:lines_of_export",
    "salvaged rows": "game.practice_log.foreign.salvage:salvaged_rows",
    "guitar": "game.instrument.sources.sound_file:lines_of_sound_file",
}
"""What can be asked of a file, and the function that answers, by its module."""

_FRAME = 1_000_000
_LARGEST_FILE = 4_000_000_000


def main(asked: str, path: str, cpu_s: int, memory_bytes: int, most_bytes: int, *words: str) -> None:
    """Answer one question about one file. Called by `game.practice_log.foreign.limited_reading` alone."""
    _limit(cpu_s, memory_bytes)
    answers = sys.stdout.buffer
    # Whatever a library prints must not land among the answers.
    sys.stdout = sys.stderr
    try:
        _send_lines(answers, _answer(asked, Path(path), words), most_bytes)
    except HomefretError as refused:
        _send(answers, REFUSED, json.dumps(to_plain(refused.message)).encode())
    except MemoryError:
        _send(answers, MEMORY, b"")
    except Exception as fault:  # noqa: BLE001 - a hostile file may bring about anything; the parent words it
        _send(answers, FAULT, f"{type(fault).__name__}: {fault}"[:1000].encode(errors="replace"))
    else:
        _send(answers, ENDED, b"")


def _answer(asked: str, path: Path, words: Sequence[str]) -> Iterator[bytes]:
    module, _, function = ANSWERS[asked].partition(":")
    lines: Iterator[bytes] = getattr(import_module(module), function)(path, *words)
    return lines


def _send_lines(pipe: IO[bytes], lines: Iterator[bytes], most_bytes: int) -> None:
    waiting, length, room = [], 0, most_bytes
    for block in lines:
        waiting.append(block)
        length += len(block)
        room -= len(block)
        if room < 0:
            raise LogError("transfer.too_large", limit_mb=most_bytes // 1_000_000)
        if length >= _FRAME:
            _send(pipe, LINES, b"".join(waiting))
            waiting, length = [], 0
    _send(pipe, LINES, b"".join(waiting))


def _send(pipe: IO[bytes], kind: bytes, content: bytes) -> None:
    if len(content) > MOST_OF_A_FRAME:
        raise LogError("transfer.too_large", limit_mb=MOST_OF_A_FRAME // 1_000_000)
    pipe.write(kind + len(content).to_bytes(LENGTH_BYTES, "big") + content)
    pipe.flush()


def _limit(cpu_s: int, memory_bytes: int) -> None:
    """Bound this process where the system can (not on Windows, where the parent's wall limit must do)."""
    with suppress(OSError, AttributeError):
        os.nice(5)
    with suppress(ImportError, ValueError, OSError):
        import resource  # noqa: PLC0415 - there is none on Windows

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s))
        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
        resource.setrlimit(resource.RLIMIT_FSIZE, (_LARGEST_FILE, _LARGEST_FILE))
