"""The process that goes through the files of students, one student after another, until nobody asks any more.

It is asked on its standard input and answers on its standard output, in frames: eight bytes of length (big-endian), and
a pickled `StudentTask`, or what `rows_of_student` makes of it. Both ends are this program; what stands in the files
themselves is read by a child with limits, and comes from there as plain values.
"""

import pickle
import signal
import sys
from typing import IO, Any

from game.practice_log.classes.student_rows import rows_of_student

_LENGTH_BYTES = 8


def main() -> None:
    """Answer until the parent is gone. Called by `game.practice_log.classes.gathering_process` alone."""
    # Whoever interrupts the parent is answered by the parent.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    questions, answers = sys.stdin.buffer, sys.stdout.buffer
    # Whatever a library prints must not land among the answers.
    sys.stdout = sys.stderr
    while (task := received(questions)) is not None:
        send(answers, rows_of_student(task))
        del task


def send(pipe: IO[bytes], thing: object) -> None:
    """Write one thing. Raises `OSError` where nobody reads."""
    content = pickle.dumps(thing, pickle.HIGHEST_PROTOCOL)
    pipe.write(len(content).to_bytes(_LENGTH_BYTES, "big"))
    pipe.write(content)
    pipe.flush()


def received(pipe: IO[bytes]) -> Any | None:
    """The next thing; None where the pipe was closed, also in the middle of one."""
    length = int.from_bytes(pipe.read(_LENGTH_BYTES), "big")
    content = pipe.read(length)
    return pickle.loads(content) if length and len(content) == length else None  # noqa: S301 - of our own process
