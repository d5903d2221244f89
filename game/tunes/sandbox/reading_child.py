"""The reading process itself: limits first, then one answer for each request until the pipe closes.

Messages both ways are four bytes of length (big-endian) and that many bytes. A request is a line of JSON
(`ReadingRequest`) and, where it names no path, the whole file. An answer begins with `S` and a packed Score; `K` and
what is kept of a tune (`KeptTune`); `N` and a JSON list, the names that the tunes have in a library; `E` and the
message of a `TuneError` in JSON; `P` and a JSON list, the message, whether the file holds several tunes rather than
parts, and their names; `M` where memory ran out; or `F` and what the reader broke down with.

Nothing of a file is looked at anywhere else: it is opened, unpacked, checked and read here.
"""

import gc
import json
import os
import sys
import warnings
from contextlib import suppress
from dataclasses import asdict, dataclass
from importlib import import_module
from pathlib import Path
from typing import IO, TYPE_CHECKING

from game.errors import SeveralPartsError, SeveralTunesError, TuneError
from game.message import to_plain
from game.music.score import Reading, Score
from game.tunes.library.compact import pack

if TYPE_CHECKING:
    from game.tunes.sandbox.tune_source import TuneSource

SCORE, KEPT, NAMES, FAULT, MEMORY, REFUSED, SEVERAL = b"S", b"K", b"N", b"F", b"M", b"E", b"P"
MOST_ANSWER_BYTES = 20_000_000
"""A file of 5 MB as it came, and far more than any score comes to."""

_LENGTH_BYTES = 4
_ENDS_ABOVE_BYTES = 350_000_000
"""What one file took is not always given back: a process that has grown so far makes room for a fresh one."""

_FEW_COLLECTIONS = (100_000, 50, 50)
"""Of a tune hardly anything is garbage while it is read: looking for it at the usual rate costs a fifth of the time."""

_READERS = {
    "musicxml": "game.tunes.musicxml.musicxml_tune:read_musicxml",
    "abc": "game.tunes.abc.abc_tune:read_abc",
    "midi": "game.tunes.midi.midi_tune:read_midi",
}
"""Who reads a format, by their module: music21, which takes its time to load, is loaded for MusicXML alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingRequest:
    """What is asked of a file. `path_hex` are the bytes of its path in hexadecimal, "" where the file itself follows;
    `part` counts from 1; `reading` is the value of a `Reading`, "" for the guitar's. `keeps` where the tune is to come
    on the shelf; `names` where only the names are asked that its tunes have in a library.
    """

    name: str
    path_hex: str = ""
    part: int | None = None
    reading: str = ""
    keeps: bool = False
    names: bool = False

    def packed(self, content: bytes = b"") -> bytes:
        """The message to send, with the file where no path is named."""
        return json.dumps(asdict(self)).encode() + b"\n" + content


def main(cpu_s: int, memory_bytes: int) -> None:
    """Answer requests on standard input until it closes. Called by `game.tunes.sandbox.reading_process` alone."""
    _limit(memory_bytes)
    answers = sys.stdout.buffer
    # Whatever a library prints must not land among the answers.
    sys.stdout = sys.stderr
    warnings.simplefilter("ignore")
    # A score may be wide rather than deep, but copies of it recurse.
    sys.setrecursionlimit(5_000)
    gc.set_threshold(*_FEW_COLLECTIONS)
    while (request := receive(sys.stdin.buffer)) is not None:
        _limit_cpu(cpu_s)
        answer = _answer(request)
        send(answers, answer)
        if answer[:1] == MEMORY or _has_grown():
            return
        # The garbage of this file goes now; what stays is there for good, and no later collection looks at it again.
        del request, answer
        gc.collect()
        gc.freeze()


def _answer(request: bytes) -> bytes:
    try:
        answer = _answered(request)
    except SeveralPartsError as several:
        told = [to_plain(several.message), isinstance(several, SeveralTunesError), *several.names]
        return SEVERAL + json.dumps(told).encode()
    except TuneError as refused:
        return REFUSED + json.dumps(to_plain(refused.message)).encode()
    except MemoryError:
        return MEMORY
    except Exception as fault:  # noqa: BLE001 - music21 raises anything; the parent words it for the player
        return FAULT + f"{type(fault).__name__}: {fault}"[:1000].encode(errors="replace")
    return answer


def _answered(line_and_content: bytes) -> bytes:
    sources = import_module("game.tunes.sandbox.tune_source")
    line, _, content = line_and_content.partition(b"\n")
    asked = ReadingRequest(**json.loads(line))
    if asked.path_hex:
        content = sources.bytes_of(Path(os.fsdecode(bytes.fromhex(asked.path_hex))))
    read = Reading(asked.reading) if asked.reading else None
    if asked.names:
        return NAMES + json.dumps(_names(sources.source_of(content, asked.name), content, read)).encode()
    score = read_source(sources.source_of(content, asked.name), asked.part, read)
    packed = pack(score)
    if not asked.keeps:
        return SCORE + packed
    kept: bytes = import_module("game.tunes.sandbox.kept_tune").packed_up(score, asked.name, packed, content)
    return KEPT + kept


def _names(source: "TuneSource", content: bytes, read: Reading | None) -> list[str]:
    """One for each tune of the file; the parts of a score are parts of one tune."""
    tunes = 1
    if source.file_format == "abc":
        tunes = len(import_module("game.tunes.abc.abc_text").abc_tunes(source))
    tune_name = import_module("game.tunes.library.shelf_entry").tune_name
    return [tune_name(content, number, read) for number in range(1, tunes + 1)]


def read_source(source: "TuneSource", part: int | None, read: Reading | None) -> Score:
    """Read a tune in the process that calls: `game.tunes.read_tune` lets the child do it. Raises `TuneError`, and
    whatever a fault of ours raises.
    """
    module, _, function = _READERS[source.file_format].partition(":")
    score: Score = getattr(import_module(module), function)(source, part, read)
    return score


def send(pipe: IO[bytes], message: bytes) -> None:
    """Write one message and flush it."""
    pipe.write(len(message).to_bytes(_LENGTH_BYTES, "big"))
    pipe.write(message)
    pipe.flush()


def receive(pipe: IO[bytes], most: int = MOST_ANSWER_BYTES) -> bytes | None:
    """The next whole message; None when the pipe has closed, also in the middle of one, and for one that is longer than
    `most` bytes.
    """
    head = pipe.read(_LENGTH_BYTES)
    if len(head) < _LENGTH_BYTES:
        return None
    length = int.from_bytes(head, "big")
    if length > most:
        return None
    message = pipe.read(length)
    return message if len(message) == length else None


def _limit(memory_bytes: int) -> None:
    """Bound this process where the system can (not on Windows, where the parent's wall limit must do)."""
    with suppress(OSError, AttributeError):
        # The window goes first.
        os.nice(10)
    with suppress(ImportError, ValueError, OSError):
        resource = import_module("resource")
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))


def _limit_cpu(cpu_s: int) -> None:
    """So many seconds of processor time from now on, for one file: the system counts over the life of the process."""
    with suppress(ImportError, ValueError, OSError):
        resource = import_module("resource")
        used = resource.getrusage(resource.RUSAGE_SELF)
        _, most = resource.getrlimit(resource.RLIMIT_CPU)
        resource.setrlimit(resource.RLIMIT_CPU, (int(used.ru_utime + used.ru_stime) + cpu_s, most))


def _has_grown() -> bool:
    """Whether this process has ever held more than it should begin the next file with."""
    return _most_bytes_held() > _ENDS_ABOVE_BYTES


def _most_bytes_held() -> int:
    with suppress(OSError, ValueError):
        # Not `ru_maxrss` on Linux: a process keeps what its parent held across `exec`, and under a large parent every
        # file would cost a process of its own.
        for line in Path("/proc/self/status").read_text(encoding="ascii").splitlines():
            if line.startswith("VmHWM:"):
                return int(line.split()[1]) * 1024
    with suppress(ImportError):
        resource = import_module("resource")
        # In kilobytes; macOS counts bytes.
        unit = 1 if sys.platform == "darwin" else 1024
        return int(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss) * unit
    return 0
