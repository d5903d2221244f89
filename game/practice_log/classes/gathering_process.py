"""As many processes as are worth it, each of which goes through the files of one student after another: the parent
alone writes the class.
"""

import os
import subprocess
import sys
from collections import deque
from collections.abc import Callable, Generator, Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import ExitStack, suppress
from pathlib import Path
from queue import SimpleQueue
from types import TracebackType
from typing import Self

from game.practice_log.classes.gathering_child import received, send
from game.practice_log.classes.student_rows import NoRows, StudentRows, StudentTask, rows_of_student

BYTES_FOR_EACH = 250_000
"""So much to read is worth another process: it takes a quarter of a second to begin, and to go through 300 kB takes
half a second. Ours.
"""

MOST_PROCESSES = 8
"""Each may take a hundred megabytes of memory."""

_AHEAD = 2
_REAPED_WITHIN_S = 5.0
_START = "import sys; sys.path[:] = sys.argv[1:]; from game.practice_log.classes.gathering_child import main; main()"

Answer = StudentRows | NoRows | None
"""What came of a student; None where the process that went through their files broke off."""


def how_many_processes(students: int, size_bytes: int) -> int:
    """How many processes are worth it; with one or none everything is done in this one."""
    return min(_processors(), MOST_PROCESSES, students, size_bytes // BYTES_FOR_EACH)


def answers_to(tasks: Iterable[StudentTask], processes: int) -> Generator[tuple[StudentTask, Answer], None, None]:
    """What comes of each task, in their order; of the tasks only few are under way at once, so that what waits stays
    bounded. Whoever ends this ends the processes.
    """
    if processes < 2:
        for task in tasks:
            yield task, rows_of_student(task)
        return
    with ExitStack() as stack:
        threads = ThreadPoolExecutor(processes)
        stack.callback(threads.shutdown, cancel_futures=True)
        open_processes = [stack.enter_context(StudentProcess()) for _ in range(processes)]
        free: SimpleQueue[StudentProcess] = SimpleQueue()
        for process in open_processes:
            free.put(process)

        def answer_to(task: StudentTask) -> Answer:
            process = free.get()
            try:
                return process.ask(task)
            finally:
                free.put(process)

        yield from _in_order(tasks, threads, answer_to, processes + _AHEAD)


def _in_order(
    tasks: Iterable[StudentTask], threads: ThreadPoolExecutor, answer_to: Callable[[StudentTask], Answer], at_once: int
) -> Generator[tuple[StudentTask, Answer], None, None]:
    waiting: deque[tuple[StudentTask, Future[Answer]]] = deque()
    for task in tasks:
        waiting.append((task, threads.submit(answer_to, task)))
        if len(waiting) >= at_once:
            first, coming = waiting.popleft()
            yield first, coming.result()
    while waiting:
        first, coming = waiting.popleft()
        yield first, coming.result()


class StudentProcess:
    """A process that goes through the files of students, started when first asked; a context manager. Where a student
    ends it, the next question starts another.
    """

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._closed = False

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._closed = True
        self._end()

    def ask(self, task: StudentTask) -> Answer:
        """What comes of a task; None where the process broke off, or could not be started."""
        if self._closed:
            return None
        answer: Answer = None
        with suppress(OSError, EOFError, ValueError):
            process = self._running()
            assert process.stdin is not None
            assert process.stdout is not None
            send(process.stdin, task)
            answer = received(process.stdout)
        if answer is None:
            self._end()
        return answer

    def _running(self) -> "subprocess.Popen[bytes]":
        if self._process is None:
            self._process = _started()
        return self._process

    def _end(self) -> None:
        process, self._process = self._process, None
        if process is None:
            return
        process.kill()
        with suppress(subprocess.TimeoutExpired, OSError, ValueError):
            process.communicate(timeout=_REAPED_WITHIN_S)


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
