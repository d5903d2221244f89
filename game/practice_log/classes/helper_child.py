"""A process that does one task after another, until nobody asks any more.

It is asked on its standard input and answers on its standard output, in frames: eight bytes of length (big-endian), and
what is pickled: a function of a module with its one argument, or what came of it as a tuple of one. Both ends are this
program; what stands in the files themselves is read by a child with limits, and comes from there as plain values.
"""

import pickle
import signal
import sys
from typing import IO, Any

_LENGTH_BYTES = 8


def main() -> None:
    """Answer until the parent is gone. Called by `game.practice_log.classes.helper_processes` alone."""
    # Whoever interrupts the parent is answered by the parent.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    questions, answers = sys.stdin.buffer, sys.stdout.buffer
    # Whatever a library prints must not land among the answers.
    sys.stdout = sys.stderr
    while (question := received(questions)) is not None:
        do, task = question
        send(answers, (do(task),))
        del question, task


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
