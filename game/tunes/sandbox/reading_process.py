"""The parent's side of the reading process: starting it, asking it, and ending it when it takes too long."""

import importlib.util
import json
import os
import subprocess
import sys
import threading
from pathlib import Path
from types import TracebackType
from typing import Self

from game.errors import SeveralPartsError, SeveralTunesError, TuneError
from game.message import from_plain, message, verbatim
from game.music.score import Reading, Score
from game.text.clean_text import cleaned
from game.tunes.library.compact import unpack
from game.tunes.limits import READER_CPU_S, READER_MEMORY_BYTES, READER_WALL_S
from game.tunes.sandbox.reading_child import FILE, MEMORY, PART, REFUSED, SCORE, SEVERAL, receive, send
from game.tunes.sandbox.tune_source import TuneSource

_START = (
    "import sys; sys.path[:0] = sys.argv[3:4]; sys.path.extend(sys.argv[4:]); "
    "from game.tunes.sandbox.reading_child import main; main(int(sys.argv[1]), int(sys.argv[2]))"
)


class ReadingProcess:
    """One reading process; a context manager. It can be asked many times; each question has its own wall
    limit.

    With `files` above 1 the CPU limit, which the system counts over the life of the process, is that many
    times as large.
    """

    def __init__(self, *, wall_s: float = READER_WALL_S, files: int = 1) -> None:
        self._wall_s = wall_s
        # -I: nothing from the working folder, PYTHONPATH or the user's site is imported by accident.
        self._process = subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
            [
                sys.executable,
                "-I",
                "-c",
                _START,
                str(READER_CPU_S * files),
                str(READER_MEMORY_BYTES),
                *_import_folders(),
            ],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            # Number libraries reserve memory for each thread, which counts against the limit.
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"},
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def read_part(self, xml: bytes, name: str) -> Score:
        """The notes of a plain part, as `game.tunes.musicxml.note_reader` gives them.

        Raises `TuneError` when it cannot be read within 30 s and 1 GB; the process is then gone.
        """
        return self._score(PART + xml, name, "tune.notes_make_no_sense")

    def read_file(self, source: TuneSource, part: int | None, read: Reading | None) -> Score:
        """A whole ABC or MIDI file, read under the limits of this process.

        Raises `SeveralPartsError` and `TuneError` as the readers do, and `TuneError` as `read` does.
        """
        asked = json.dumps([source.name, source.file_format, part, read.value if read else None]).encode()
        request = FILE + asked + b"\n" + source.content
        return self._score(request, source.name, "tune.makes_no_sense")

    def _score(self, request: bytes, name: str, failing: str) -> Score:
        answer = self._asked(request)
        if answer is None:
            limit_mb = READER_MEMORY_BYTES // 1_000_000
            raise TuneError("tune.reader_too_slow", file=name, limit_s=self._wall_s, limit_mb=limit_mb)
        kind, told = answer[:1], answer[1:]
        if kind == SCORE:
            return unpack(told)
        words = told.decode(errors="replace")
        if kind == SEVERAL:
            sentence, tunes, *names = json.loads(words)
            raise (SeveralTunesError if tunes else SeveralPartsError)(from_plain(sentence), names=tuple(names))
        if kind == REFUSED:
            raise TuneError(from_plain(json.loads(words)))
        fault = message("tune.reader_wants_memory") if kind == MEMORY else verbatim(cleaned(words, 100))
        raise TuneError(message(failing, file=name, fault=fault))

    @property
    def ended(self) -> bool:
        """Whether the process is gone: it was too slow or took too much, and a new one is needed."""
        return self._process.poll() is not None

    def close(self) -> None:
        """End the process; it may have ended already."""
        self._process.kill()
        self._process.communicate()

    def _asked(self, xml: bytes) -> bytes | None:
        """Its answer, None when it died or had to be ended."""
        alarm = threading.Timer(self._wall_s, self._process.kill)
        alarm.daemon = True
        alarm.start()
        try:
            if self._process.stdin is None or self._process.stdout is None:
                return None
            send(self._process.stdin, xml)
            return receive(self._process.stdout)
        except OSError:
            return None
        finally:
            alarm.cancel()


def _import_folders() -> list[str]:
    """Where `-I` may not look by itself: our package's folder (a checkout, an editable install), first, and
    music21's (a user's own site folder), last.
    """
    ours = str(Path(__file__).resolve().parents[3])
    spec = importlib.util.find_spec("music21")
    if spec is None or spec.origin is None:
        raise TuneError("tune.no_music21")
    return [ours, str(Path(spec.origin).resolve().parents[1])]
