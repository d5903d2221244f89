"""Children that read files from elsewhere under limits, as copies of one that has loaded what it needs.

Each has limits of its own, reads one file and ends, as in the game; to load what reads takes four times as long as to
read a small log. Where everything is asked for each is a new interpreter, and always where that is what is proved.
"""

import gc
import json
import os
import select
import signal
import socket
import subprocess
import sys
import threading
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

ROOT = Path(__file__).parents[1]
_LARGEST = 200_000
_START = (
    "import sys; sys.path[:0] = sys.argv[1:2]; sys.path.extend(sys.argv[3:]); "
    "from tests.prepared_limits import serve; serve(int(sys.argv[2]))"
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
    """The process that makes copies of itself. While `on` is false each child is a new interpreter."""

    def __init__(self) -> None:
        self.on = True
        self._asked: dict[tuple[str, ...], tuple[socket.socket, subprocess.Popen[bytes]]] = {}
        self._one_at_a_time = threading.Lock()

    def put_in(self, put: Callable[[Any, str, object], None] = setattr) -> None:
        """Have whatever reads files from elsewhere in this process ask for copies from now on."""
        if hasattr(os, "pidfd_open"):
            put(limited_reading, "_started", self._copied)

    def end(self) -> None:
        """End the processes that make copies."""
        for asking, process in self._asked.values():
            asking.close()
            process.wait()
        self._asked.clear()

    def _copied(
        self, path: Path, question: tuple[str, Sequence[str]], limits: ReadingLimits, said: ReadingWords
    ) -> Any:
        asked, words = question
        if not self.on or subprocess.Popen is not _popen:
            return _started(path, question, limits, said)
        numbers = (limits.cpu_s, limits.memory_bytes, limits.most_bytes)
        request = {
            "words": [asked, str(path.absolute()), *numbers, *words],
            # Of pytest nothing is told in there but the name of the test.
            "environment": {name: value for name, value in os.environ.items() if not name.startswith("PYTEST")},
            "folder": str(Path.cwd()),
        }
        with self._one_at_a_time:
            asking = self._process_for(tuple(limited_reading._folders_of(said.libraries)))
            read_end, write_end = os.pipe()
            socket.send_fds(asking, [json.dumps(request).encode()], [write_end])
            os.close(write_end)
            _, (handle,), _, _ = socket.recv_fds(asking, 16, 1)
        return CopiedChild(handle, read_end)

    def _process_for(self, folders: tuple[str, ...]) -> socket.socket:
        if folders not in self._asked:
            asking, answering = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
            asking.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, _LARGEST)
            with answering:
                command = [sys.executable, "-I", "-S", "-c", _START, str(ROOT), str(answering.fileno()), *folders]
                environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
                process = subprocess.Popen(command, pass_fds=[answering.fileno()], env=environment)
            self._asked[folders] = asking, process
        return self._asked[folders][0]


PREPARED_LIMITS = PreparedLimits()


def serve(number: int) -> None:
    """Make a copy for each request until nobody asks any more."""
    asked = socket.socket(fileno=number)
    nothing = os.open(os.devnull, os.O_RDWR)
    os.dup2(nothing, 0)
    os.dup2(nothing, 2)
    for name in _LATE:
        import_module(name)
    known_columns()
    known_objects()
    gc.freeze()
    while True:
        content, handles, _, _ = socket.recv_fds(asked, _LARGEST, 1)
        if not content:
            return
        request = json.loads(content)
        _load(request["words"][0])
        child = os.fork()
        if not child:
            asked.close()
            _read(request, handles[0])
        os.close(handles[0])
        handle = os.pidfd_open(child)
        socket.send_fds(asked, [b"begun"], [handle])
        os.close(handle)
        with suppress(ChildProcessError):
            while os.waitpid(-1, os.WNOHANG)[0]:
                pass


def _load(question: str) -> None:
    import_module(ANSWERS[question].partition(":")[0])
    for name in _SOUND[1] if question == _SOUND[0] else ():
        with suppress(ImportError):
            import_module(name)


def _read(request: dict[str, Any], answers: int) -> None:
    """As a new interpreter would, in the copy."""
    os.dup2(answers, 1)
    os.close(answers)
    os.environ.clear()
    os.environ.update(request["environment"])
    os.chdir(request["folder"])
    try:
        limited_child.main(*request["words"])
    finally:
        os._exit(0)
