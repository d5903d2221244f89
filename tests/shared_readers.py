"""Reading processes that the tests of a worker share: one that has answered is asked again by the next test, or by the
next command that is a copy of the same process (`tests/commands/prepared.py`).

A reading process takes one file after the other, in the game as here. To start one, and to let it load what reads
MusicXML, takes half a second of processor each time. Where everything is asked for, each test starts its own.
"""

import os
import re
import signal
import subprocess
from collections.abc import Callable, Collection
from contextlib import suppress
from pathlib import Path
from typing import Any

from game.tunes.sandbox import reading_process
from game.tunes.sandbox.reading_child import MEMORY
from game.tunes.sandbox.reading_process import ReadingProcess

# One that has held more than 350 MB ends by itself: it may be about to.
_STAYS_BELOW_KB = 300_000
_MOST_AT_REST = 4

_asked_once, _close, _started = ReadingProcess._asked_once, ReadingProcess.close, reading_process._started
_popen = subprocess.Popen


class InheritedReader:
    """A reading process that the process this one is a copy of has started, as whoever started it sees it."""

    def __init__(self, process: "subprocess.Popen[bytes]") -> None:
        self.pid, self.stdin, self.stdout, self.returncode = process.pid, process.stdin, process.stdout, None

    def poll(self) -> int | None:
        """None while it goes on."""
        if self.returncode is None and _state_of(self.pid) in (None, "Z", "X"):
            self.returncode = -signal.SIGKILL
        return self.returncode

    def kill(self) -> None:
        """End it."""
        with suppress(ProcessLookupError):
            os.kill(self.pid, signal.SIGKILL)

    def communicate(self, timeout: float | None = None) -> None:
        """Whoever started it waits for it; nothing that it writes is read any more."""
        del timeout
        self.stdin.close()
        self.stdout.close()


class SharedReaders:
    """Those at rest. While `on` is false every one that is asked for is new, and ends with whoever asked for it."""

    def __init__(self) -> None:
        self.on = True
        self.started = 0
        self._at_rest: list[subprocess.Popen[bytes] | InheritedReader] = []

    def put_in(self, put: Callable[[Any, str, object], None] = setattr) -> None:
        """Have whatever reads tunes in this process share its readers from now on."""
        put(ReadingProcess, "_asked_once", self._asking())
        put(ReadingProcess, "close", self._closing())
        put(reading_process, "_started", self._one)

    def are_inherited(self) -> None:
        """This process is a copy of the one that started those at rest."""
        self._at_rest = [InheritedReader(process) for process in self._at_rest]

    @property
    def at_rest(self) -> list[int]:
        """Which processes they are, by number."""
        return [process.pid for process in self._at_rest]

    def keep(self, numbers: Collection[int]) -> None:
        """Of those at rest let these stay, and end the others: a copy of this process has asked them, and its answers
        may be under way.
        """
        others = [process for process in self._at_rest if process.pid not in numbers]
        self._at_rest = [process for process in self._at_rest if process.pid in numbers]
        for process in others:
            process.kill()
            process.communicate()

    def start_one(self) -> None:
        """Start one that copies of this process will ask."""
        self._at_rest.append(_started())

    def end(self) -> None:
        """End those at rest."""
        self.keep(())

    def _one(self) -> "subprocess.Popen[bytes]":
        # A test that has another program started has it started.
        while self.on and self._at_rest and subprocess.Popen is _popen:
            process = self._at_rest.pop()
            if process.poll() is None:
                return process
        self.started += 1
        return _started()

    def _asking(self):
        def asked_once(reader: ReadingProcess, request: bytes) -> tuple[bytes | None, bool]:
            reader.at_rest = False
            answer, too_slow = _asked_once(reader, request)
            reader.at_rest = answer is not None and answer[:1] not in (b"", MEMORY)
            return answer, too_slow

        return asked_once

    def _closing(self):
        def close(reader: ReadingProcess) -> None:
            process = reader._process
            may_stay = self.on and getattr(reader, "at_rest", False) and not reader._interrupted
            if may_stay and len(self._at_rest) < _MOST_AT_REST and process is not None and _is_well(process):
                reader._process = None
                self._at_rest.append(process)
            else:
                _close(reader)

        return close


def _state_of(number: int) -> str | None:
    """The letter that Linux has for what a process does; None where there is none of this number."""
    with suppress(OSError):
        return Path(f"/proc/{number}/stat").read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()[0]
    return None


def _is_well(process: "subprocess.Popen[bytes]") -> bool:
    """Whether it goes on, and has not held so much that it will end by itself."""
    if process.poll() is not None:
        return False
    with suppress(OSError):
        told = Path(f"/proc/{process.pid}/status").read_text(encoding="ascii")
        held = re.search(r"^VmHWM:\s+(\d+) kB", told, re.MULTILINE)
        return held is not None and int(held[1]) < _STAYS_BELOW_KB
    return False


SHARED_READERS = SharedReaders()
