"""Processes beside this one, each of which does one task after another: for what takes long and is to be done for one
student after another. What they are asked to do changes nothing: this process alone writes.
"""

import os
import subprocess
import sys
from collections import deque
from collections.abc import Callable, Generator, Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from queue import SimpleQueue
from threading import Lock
from typing import Any, Self, TypeVar

from game.practice_log.classes.helper_child import received, send

Task = TypeVar("Task")
Answer = TypeVar("Answer")

MOST_PROCESSES = 8
"""Each may take a hundred megabytes of memory."""

_AHEAD = 2
_REAPED_WITHIN_S = 5.0
_START = "import sys; sys.path[:] = sys.argv[1:]; from game.practice_log.classes.helper_child import main; main()"


def most_processes() -> int:
    """How many processes can do something at the same time."""
    return min(_processors(), MOST_PROCESSES)


class HelperProcesses:
    """As many processes as were needed so far, which go on until the end of the `with`: to begin one takes as long as
    to do half a task. Each does what is to be done `afterwards`, a function of a module, when no task is left for it.
    """

    def __init__(self, afterwards: Callable[[], None] | None = None) -> None:
        self._afterwards = afterwards
        self._threads = ThreadPoolExecutor(MOST_PROCESSES, thread_name_prefix="helper-process")
        self._processes: list[HelperProcess] = []
        self._free = SimpleQueue[HelperProcess]()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        for process in self._processes:
            process.end()
        self._threads.shutdown(cancel_futures=True)

    def answers(
        self, do: Callable[[Task], Answer], tasks: Iterable[Task], processes: int
    ) -> Generator[tuple[Task, Answer | None], None, None]:
        """What comes of each task, in their order, done by so many processes, with fewer than two in this one: None
        where the process broke off, or could not be started. `do` is a function of a module. Of the tasks only few are
        under way at once, so that what waits stays bounded; those that were not begun when nobody asks any more are
        left.
        """
        if processes < 2:
            for task in tasks:
                yield task, do(task)
            return
        for _ in range(len(self._processes), min(processes, MOST_PROCESSES)):
            self._processes.append(HelperProcess())
            self._free.put(self._processes[-1])
        waiting = deque[tuple[Task, Future[Answer | None]]]()
        try:
            for task in tasks:
                waiting.append((task, self._threads.submit(self._answer, do, task)))
                if len(waiting) >= processes + _AHEAD:
                    first, coming = waiting.popleft()
                    yield first, coming.result()
            if self._afterwards is not None:
                for process in self._processes:
                    self._threads.submit(process.ask, _called, self._afterwards)
                self._afterwards = None
            while waiting:
                first, coming = waiting.popleft()
                yield first, coming.result()
        finally:
            for _, coming in waiting:
                coming.cancel()

    def _answer(self, do: Callable[[Task], Answer], task: Task) -> Answer | None:
        process = self._free.get()
        try:
            return process.ask(do, task)
        finally:
            self._free.put(process)


class HelperProcess:
    """A process that is started when it is first asked. Where a task ends it, the next one starts another."""

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._ended = False
        self._one_at_a_time = Lock()

    def ask(self, do: Callable[[Task], Answer], task: Task) -> Answer | None:
        """What comes of a task; None where the process broke off, could not be started, or was ended."""
        with self._one_at_a_time:
            answer = None if self._ended else self._asked((do, task))
            if answer is None:
                self._kill()
                return None
        (came,) = answer
        return came  # type: ignore[no-any-return]  # it is what `do` gave

    def _asked(self, question: object) -> Any | None:
        with suppress(OSError, EOFError, ValueError):
            process = self._running()
            if self._ended:
                # While it was being started.
                return None
            assert process.stdin is not None
            assert process.stdout is not None
            send(process.stdin, question)
            return received(process.stdout)
        return None

    def end(self) -> None:
        """End it for good."""
        self._ended = True
        self._kill()

    def _running(self) -> "subprocess.Popen[bytes]":
        if self._process is None:
            self._process = _started()
        return self._process

    def _kill(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        with suppress(subprocess.TimeoutExpired, OSError, ValueError):
            process.communicate(timeout=_REAPED_WITHIN_S)


def _called(what: Callable[[], None]) -> None:
    what()


def _started() -> "subprocess.Popen[bytes]":
    """-I and -S: it finds what this program finds, and nothing from the folder it happens to be in."""
    ours = str(Path(__file__).resolve().parents[3])
    folders = dict.fromkeys([ours, *(folder for folder in sys.path if Path(folder).is_absolute())])
    return subprocess.Popen(  # noqa: S603 - our own interpreter and our own words
        [sys.executable, "-I", "-S", "-c", _START, *folders],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )


def _processors() -> int:
    with suppress(AttributeError, OSError):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
