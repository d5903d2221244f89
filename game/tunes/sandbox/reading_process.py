"""The parent's side of the reading process: starting it, asking it, and ending it when it takes too long."""

import importlib.util
import os
import subprocess
import sys
import threading
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from types import TracebackType
from typing import Annotated, Any, Self

import msgspec

from game.errors import SeveralPartsError, SeveralTunesError, TuneError, reason_of
from game.message import Message, from_plain, message, verbatim
from game.music.score import Reading, Score
from game.text.catalogue import readable
from game.text.clean_text import cleaned, cleaned_name
from game.tunes.library.compact import unpack
from game.tunes.limits import MAX_FILE_BYTES, READER_CPU_S, READER_MEMORY_BYTES, READER_WALL_S
from game.tunes.sandbox.kept_tune import KeptTune, unpacked_tune
from game.tunes.sandbox.reading_child import KEPT, MEMORY, NAMES, REFUSED, SCORE, SEVERAL, ReadingRequest, receive, send

_START = (
    "import sys; sys.path[:0] = sys.argv[3:4]; sys.path.extend(sys.argv[4:]); "
    "from game.tunes.sandbox.reading_child import main; main(int(sys.argv[1]), int(sys.argv[2]))"
)
_REAPED_WITHIN_S = 5.0
LibraryName = Annotated[str, msgspec.Meta(pattern=r"\A[0-9a-f]{24}\Z")]
"""Nothing else may become a part of a path."""


class ReadingProcess:
    """A process that reads tune files, started when first asked; a context manager.

    It can be asked many times; each question has its own limits. Where a file ends the process, the next question
    starts another. Of a file nothing is looked at here: it is opened by the process, which answers in bytes that are
    not trusted either.
    """

    def __init__(self, *, wall_s: float = READER_WALL_S) -> None:
        self._wall_s = wall_s
        self._process: subprocess.Popen[bytes] | None = None
        self._interrupted = False

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def read(
        self, file: Path | bytes, *, part: int | None = None, read: Reading | None = None, name: str = "tune"
    ) -> Score:
        """The tune in a file, or in the bytes of a file called `name`; see `game.tunes.read_tune.read_tune`.

        Raises `SeveralPartsError` and `TuneError` as the readers do, and `TuneError` when it cannot be read within 30 s
        and 1 GB.
        """
        name = cleaned_name(file) if isinstance(file, Path) else cleaned(name)
        kind, told = self._answer(file, ReadingRequest(name=name, part=part, reading=read.value if read else ""))
        if kind != SCORE:
            raise _makes_no_sense(name)
        return unpack(told)

    def read_to_keep(self, path: Path, *, part: int | None = None, read: Reading | None = None) -> KeptTune:
        """The tune in a file with what is kept of it in the library. Raises as `read` does."""
        name = cleaned_name(path)
        asked = ReadingRequest(name=name, part=part, reading=read.value if read else "", keeps=True)
        kind, told = self._answer(path, asked)
        with suppress(ValueError, RecursionError):
            if kind == KEPT:
                return unpacked_tune(told)
        raise _makes_no_sense(name)

    def names_in(self, path: Path, *, read: Reading | None = None) -> tuple[str, ...]:
        """The names that the tunes of a file have in a library (`game.tunes.library.shelf_entry.tune_name`), in their
        order in the file; those of a score with several parts all go by that of the first. No tune is read for it.

        Raises `TuneError` where the file cannot be opened or is none of ours.
        """
        name = cleaned_name(path)
        kind, told = self._answer(path, ReadingRequest(name=name, reading=read.value if read else "", names=True))
        with suppress(ValueError, RecursionError):
            if kind == NAMES:
                return msgspec.json.decode(told, type=tuple[LibraryName, ...])
        raise _makes_no_sense(name)

    @property
    def ended(self) -> bool:
        """Whether the process is gone, or was never there: the last file was too slow or took too much."""
        return self._process is None or self._process.poll() is not None

    def interrupt(self) -> None:
        """End the process whatever it reads, from another thread; every question from now on goes without an answer."""
        self._interrupted = True
        process = self._process
        if process is not None:
            process.kill()

    def close(self) -> None:
        """End the process; it may have ended already, or never have begun."""
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        with suppress(subprocess.TimeoutExpired):
            # One that hangs in a dead network folder cannot be waited for.
            process.communicate(timeout=_REAPED_WITHIN_S)

    def _answer(self, file: Path | bytes, asked: ReadingRequest) -> tuple[bytes, bytes]:
        """The kind of the answer and the rest of it; raises what it says went wrong."""
        if isinstance(file, bytes) and len(file) > MAX_FILE_BYTES:
            raise TuneError("tune.too_large", file=asked.name, limit_mb=MAX_FILE_BYTES // 1_000_000)
        answer = self._asked(_packed(file, asked))
        if not answer:
            limit_mb = READER_MEMORY_BYTES // 1_000_000
            raise TuneError("tune.reader_too_slow", file=asked.name, limit_s=READER_CPU_S, limit_mb=limit_mb)
        kind, told = answer[:1], answer[1:]
        if kind in (SCORE, KEPT, NAMES):
            return kind, told
        raise _refusal(kind, told, asked.name)

    def _asked(self, request: bytes) -> bytes | None:
        """Its answer, None when it died or had to be ended. One that had answered before and dies at once may have been
        worn out by other files: then a fresh one is asked.
        """
        fresh = self._process is None or self._process.poll() is not None
        answer, too_slow = self._asked_once(request)
        if answer is None and not (fresh or too_slow):
            answer, _ = self._asked_once(request)
        return answer

    def _asked_once(self, request: bytes) -> tuple[bytes | None, bool]:
        """Its answer, and whether it had to be ended."""
        if self._interrupted:
            return None, True
        process = self._running()
        rung = threading.Event()
        alarm = threading.Timer(self._wall_s, _end, (process, rung))
        alarm.daemon = True
        alarm.start()
        answer: bytes | None = None
        with suppress(OSError):
            if process.stdin is not None and process.stdout is not None:
                send(process.stdin, request)
                answer = receive(process.stdout)
        alarm.cancel()
        if answer is None:
            self.close()
        return answer, rung.is_set()

    def _running(self) -> "subprocess.Popen[bytes]":
        if self._process is not None and self._process.poll() is not None:
            self.close()
        if self._process is None:
            self._process = _started()
        return self._process


def _end(process: "subprocess.Popen[bytes]", rung: threading.Event) -> None:
    rung.set()
    process.kill()


def _started() -> "subprocess.Popen[bytes]":
    """-I: nothing from the working folder, PYTHONPATH or the user's site is imported by accident."""
    limits = (str(READER_CPU_S), str(READER_MEMORY_BYTES))
    command = [sys.executable, "-I", "-c", _START, *limits, *_import_folders()]
    try:
        return subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
            command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            # Number libraries reserve memory for each thread, which counts against the limit.
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"},
        )
    except OSError as error:
        raise TuneError("tune.reader_not_started", reason=reason_of(error)) from error


def _packed(file: Path | bytes, asked: ReadingRequest) -> bytes:
    if isinstance(file, bytes):
        return asked.packed(file)
    try:
        path_hex = os.fsencode(file.absolute()).hex()
    except (OSError, ValueError) as error:
        # No folder to be in, or a name that cannot be one here.
        raise TuneError("tune.no_such_file", file=asked.name) from error
    return replace(asked, path_hex=path_hex).packed()


def _refusal(kind: bytes, told: bytes, name: str) -> TuneError:
    """Why there is no tune. Also what the process says is not trusted: it read a hostile file."""
    if kind == MEMORY:
        return _makes_no_sense(name, message("tune.reader_wants_memory"))
    try:
        if kind == SEVERAL:
            sentence, tunes, *names = msgspec.json.decode(told, type=list[Any])
            error = SeveralTunesError if tunes else SeveralPartsError
            return error(readable(from_plain(sentence)), names=tuple(str(one) for one in names))
        if kind == REFUSED:
            return TuneError(readable(from_plain(msgspec.json.decode(told))))
    except (ValueError, TypeError, RecursionError):
        return _makes_no_sense(name)
    return _makes_no_sense(name, verbatim(cleaned(told.decode(errors="replace"), 100)))


def _makes_no_sense(name: str, fault: Message | None = None) -> TuneError:
    return TuneError("tune.makes_no_sense", file=name, fault=fault or message("tune.reader_lost_its_words"))


def _import_folders() -> list[str]:
    """Where `-I` may not look by itself: our package's folder (a checkout, an editable install), first, and
    music21's (a user's own site folder), last.
    """
    ours = str(Path(__file__).resolve().parents[3])
    spec = importlib.util.find_spec("music21")
    if spec is None or spec.origin is None:
        raise TuneError("tune.no_music21")
    return [ours, str(Path(spec.origin).resolve().parents[1])]
