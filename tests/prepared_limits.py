"""Children that read files from elsewhere under limits, as copies of one that has loaded what it needs.

Each has limits of its own, reads one file and ends, as in the game; to load what reads takes four times as long as to
read a small log. Where everything is asked for each is a new interpreter, and always where that is what is proved.
"""

import gc
import os
import select
import signal
import subprocess
import sys
from collections.abc import Callable, Sequence
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from typing import Any, Self

from game.practice_log.database.known_tables import known_columns, known_objects
from game.practice_log.foreign import limited_child, limited_reading
from game.practice_log.foreign.limited_child import ANSWERS
from game.practice_log.foreign.limited_reading import ReadingLimits
from game.practice_log.foreign.plain_files import ReadingWords
from tests.copy_maker import CopyMaker, serve, surroundings

ROOT = Path(__file__).parents[1]
_START = (
    "import sys; sys.path[:0] = sys.argv[1:2]; sys.path.extend(sys.argv[2:-1]); "
    "from tests.prepared_limits import main; main(int(sys.argv[-1]))"
)
# Which some answers load when they come to it.
_LATE = ("game.practice_log.foreign.documents_of_log", "game.practice_log.foreign.rows_of_file")
_SOUND = ("guitar", ("soundfile",))
_started, _popen = limited_reading._started, subprocess.Popen


class CopiedChild:
    """A child as whoever asked for it sees it."""

    def __init__(self, handle: int, answers: int) -> None:
        self._handle, self.stdout = handle, os.fdopen(answers, "rb")

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.stdout.close()
        select.select([self._handle], [], [])
        os.close(self._handle)

    def kill(self) -> None:
        """End it, if it has not ended."""
        with suppress(ProcessLookupError):
            signal.pidfd_send_signal(self._handle, signal.SIGKILL)


class PreparedLimits:
    """The processes that make copies of themselves. While `on` is false each child is a new interpreter."""

    def __init__(self) -> None:
        self.on = True
        self._makers: dict[tuple[str, ...], CopyMaker] = {}

    def put_in(self, put: Callable[[Any, str, object], None] = setattr) -> None:
        """Have whatever reads files from elsewhere in this process ask for copies from now on."""
        if hasattr(os, "pidfd_open"):
            put(limited_reading, "_started", self._copied)

    def end(self) -> None:
        """End the processes that make copies."""
        for maker in self._makers.values():
            maker.end()
        self._makers.clear()

    @property
    def ready(self) -> list[tuple[str, ...]]:
        """For which folders of libraries there is one."""
        return list(self._makers)

    def make_ready(self, folders: Sequence[Sequence[str]]) -> None:
        """Begin one for each that is lacking: copies of this process ask it too."""
        for one in folders:
            self._maker_with(tuple(one))

    def _copied(
        self, path: Path, question: tuple[str, Sequence[str]], limits: ReadingLimits, said: ReadingWords
    ) -> Any:
        asked, words = question
        if not self.on or subprocess.Popen is not _popen:
            return _started(path, question, limits, said)
        numbers = (limits.cpu_s, limits.memory_bytes, limits.most_bytes)
        request = {"words": [asked, str(path.absolute()), *numbers, *words], **surroundings()}
        maker = self._maker_with(tuple(limited_reading._folders_of(said.libraries)))
        read_end, write_end = os.pipe()
        handle = maker.copied(request, write_end)
        os.close(write_end)
        return CopiedChild(handle, read_end)

    def _maker_with(self, folders: tuple[str, ...]) -> CopyMaker:
        if folders not in self._makers:
            command = [sys.executable, "-I", "-S", "-c", _START, str(ROOT), *folders]
            self._makers[folders] = CopyMaker(command, OPENBLAS_NUM_THREADS="1", OMP_NUM_THREADS="1")
        return self._makers[folders]


PREPARED_LIMITS = PreparedLimits()


def main(number: int) -> None:
    """Make a copy for each file until nobody asks any more."""
    for name in _LATE:
        import_module(name)
    known_columns()
    known_objects()
    gc.freeze()
    serve(number, _load, _read)


def _load(request: dict[str, Any]) -> None:
    question = request["words"][0]
    import_module(ANSWERS[question].partition(":")[0])
    for name in _SOUND[1] if question == _SOUND[0] else ():
        with suppress(ImportError):
            import_module(name)


def _read(request: dict[str, Any], answers: int) -> None:
    """As a new interpreter would, in the copy."""
    os.dup2(answers, 1)
    os.close(answers)
    limited_child.main(*request["words"])
