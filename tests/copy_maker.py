"""A process that has loaded what is needed and makes a copy of itself for each request; copies run side by side."""

import json
import os
import socket
import subprocess
import threading
from collections.abc import Callable, Sequence
from contextlib import suppress
from typing import Any

_LARGEST = 200_000
_ENDS_WITHIN_S = 5.0


class CopyMaker:
    """Such a process, begun by a command to which the number of a socket is added; there it calls `serve`."""

    def __init__(self, command: Sequence[str], **changed: str) -> None:
        self._asking, answering = socket.socketpair(socket.AF_UNIX, socket.SOCK_SEQPACKET)
        self._asking.setsockopt(socket.SOL_SOCKET, socket.SO_SNDBUF, _LARGEST)
        self._one_at_a_time = threading.Lock()
        with answering:
            number = answering.fileno()
            self._process = subprocess.Popen(
                [*command, str(number)], pass_fds=[number], env={**os.environ, **changed}, stdin=subprocess.DEVNULL
            )

    def copied(self, request: dict[str, Any], handle: int) -> int:
        """Have a copy answer a request, with one of our files at hand: a handle on the process (pidfd_open(2))."""
        with self._one_at_a_time:
            socket.send_fds(self._asking, [json.dumps(request).encode()], [handle])
            _, (copy,), _, _ = socket.recv_fds(self._asking, 16, 1)
        return copy

    def end(self) -> None:
        """End it; copies that run go on."""
        self._asking.close()
        try:
            self._process.wait(_ENDS_WITHIN_S)
        except subprocess.TimeoutExpired:
            # A copy of this process may still hold the other end.
            self._process.kill()
            self._process.wait()


def surroundings() -> dict[str, Any]:
    """What a new process would find about it: of pytest nothing is told in there but the name of the test."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTEST")}
    return {"environment": environment, "folder": os.getcwd()}  # noqa: PTH109 - as text


def serve(number: int, prepare: Callable[[dict[str, Any]], None], run: Callable[[dict[str, Any], int], None]) -> None:
    """Make a copy for each request until nobody asks any more: `prepare` loads what it needs, `run` answers it."""
    asked = socket.socket(fileno=number)
    nothing = os.open(os.devnull, os.O_RDWR)
    for standard in (0, 2):
        os.dup2(nothing, standard)
    while True:
        content, handles, _, _ = socket.recv_fds(asked, _LARGEST, 1)
        if not content:
            return
        request = json.loads(content)
        prepare(request)
        child = os.fork()
        if not child:
            asked.close()
            _run(request, handles[0], run)
        os.close(handles[0])
        copy = os.pidfd_open(child)
        socket.send_fds(asked, [b"begun"], [copy])
        os.close(copy)
        with suppress(ChildProcessError):
            while os.waitpid(-1, os.WNOHANG)[0]:
                pass


def _run(request: dict[str, Any], handle: int, run: Callable[[dict[str, Any], int], None]) -> None:
    try:
        os.environ.clear()
        os.environ.update(request["environment"])
        os.chdir(request["folder"])
        run(request, handle)
    finally:
        os._exit(0)
