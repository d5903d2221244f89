"""The reading process itself: limits first, then music21, then one answer for each request until the pipe
closes.

Messages both ways are four bytes of length (big-endian) and that many bytes. A request is a plain MusicXML
part; an answer begins with `S` and a packed Score, or `F` and the reason it could not be read.
"""

import sys
import warnings
from contextlib import suppress
from typing import IO

SCORE, FAULT = b"S", b"F"
_LENGTH_BYTES = 4


def main(cpu_s: int, memory_bytes: int) -> None:
    """Answer requests on standard input until it closes. Called by `game.tunes.reading_process` alone."""
    _limit(cpu_s, memory_bytes)
    answers = sys.stdout.buffer
    # Whatever a library prints must not land among the answers.
    sys.stdout = sys.stderr
    warnings.simplefilter("ignore")
    # A score may be wide rather than deep, but copies of it recurse.
    sys.setrecursionlimit(5_000)
    while (request := receive(sys.stdin.buffer)) is not None:
        send(answers, _answer(request))


def _answer(request: bytes) -> bytes:
    from game.tunes.compact import pack  # noqa: PLC0415 - after the limits
    from game.tunes.note_reader import read_notes  # noqa: PLC0415

    try:
        return SCORE + pack(read_notes(request))
    except MemoryError:
        return FAULT + b"it needs more memory than a tune should"
    except Exception as fault:  # noqa: BLE001 - music21 raises anything; the parent words it for the player
        return FAULT + f"{type(fault).__name__}: {fault}".encode()


def send(pipe: IO[bytes], message: bytes) -> None:
    """Write one message and flush it."""
    pipe.write(len(message).to_bytes(_LENGTH_BYTES, "big") + message)
    pipe.flush()


def receive(pipe: IO[bytes]) -> bytes | None:
    """The next whole message, None when the pipe has closed, also in the middle of one."""
    head = pipe.read(_LENGTH_BYTES)
    if len(head) < _LENGTH_BYTES:
        return None
    length = int.from_bytes(head, "big")
    message = pipe.read(length)
    return message if len(message) == length else None


def _limit(cpu_s: int, memory_bytes: int) -> None:
    """Bound this process where the system can (not on Windows, where the parent's wall limit must do)."""
    with suppress(ImportError, ValueError, OSError):
        import resource  # noqa: PLC0415 - not on Windows

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s))
        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
