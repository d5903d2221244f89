"""The reading process itself: limits first, then music21, then one answer for each request until the pipe
closes.

Messages both ways are four bytes of length (big-endian) and that many bytes. A request begins with `X` and a plain
MusicXML part, or with `T`, a line of JSON (name, format, part, read) and a whole ABC or MIDI file. An answer begins
with `S` and a packed Score; `E` and the message of a `TuneError` in JSON; `P` and a JSON list, the message, whether the
file holds several tunes rather than parts, and their names; `M` where memory ran out; or `F` and what the reader broke
down with.
"""

import json
import sys
import warnings
from contextlib import suppress
from typing import IO, TYPE_CHECKING

from game.errors import SeveralPartsError, SeveralTunesError, TuneError
from game.message import to_plain

if TYPE_CHECKING:
    from game.music.score import Reading, Score
    from game.tunes.sandbox.tune_source import TuneSource

SCORE, FAULT, MEMORY, REFUSED, SEVERAL = b"S", b"F", b"M", b"E", b"P"
PART, FILE = b"X", b"T"
_LENGTH_BYTES = 4


def main(cpu_s: int, memory_bytes: int) -> None:
    """Answer requests on standard input until it closes. Called by `game.tunes.sandbox.reading_process` alone."""
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
    from game.tunes.library.compact import pack

    try:
        return SCORE + pack(_read(request))
    except SeveralPartsError as several:
        told = [to_plain(several.message), isinstance(several, SeveralTunesError), *several.names]
        return SEVERAL + json.dumps(told).encode()
    except TuneError as refused:
        return REFUSED + json.dumps(to_plain(refused.message)).encode()
    except MemoryError:
        return MEMORY
    except Exception as fault:  # noqa: BLE001 - music21 raises anything; the parent words it for the player
        return FAULT + f"{type(fault).__name__}: {fault}".encode()


def _read(request: bytes) -> "Score":
    """music21 is loaded for MusicXML alone: ABC and MIDI are read by ourselves, under the same limits."""
    # ruff: noqa: PLC0415 - after the limits
    kind, content = request[:1], request[1:]
    if kind == PART:
        from game.tunes.musicxml.note_reader import read_notes

        return read_notes(content)
    from game.music.score import Reading
    from game.tunes.sandbox.tune_source import TuneSource

    asked, _, content = content.partition(b"\n")
    name, file_format, part, read = json.loads(asked)
    source = TuneSource(name=name, file_format=file_format, content=content)
    return read_abc_or_midi(source, part, Reading(read) if read else None)


def read_abc_or_midi(source: "TuneSource", part: int | None, read: "Reading | None") -> "Score":
    """Read a tune of one of these formats, in the process that calls: `game.tunes.read_tune` lets the child do it.

    Raises `TuneError`, and whatever a fault of ours raises.
    """
    from game.tunes.abc.abc_tune import read_abc
    from game.tunes.midi.midi_tune import read_midi

    return {"abc": read_abc, "midi": read_midi}[source.file_format](source, part, read)


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
        import resource

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_CPU, (cpu_s, cpu_s))
        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
