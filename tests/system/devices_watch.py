"""`homefret devices --watch` as a process of its own: what it prints is read as it comes."""

import json
import re
import signal
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

from game.neck.tuning import Place
from game.text.catalogue import say
from tests.system.jack import end
from tests.system.waiting import AT_MOST_S

_PLACE = re.compile(r"string (\d) fret +(\d+)")


class DevicesWatch:
    """A watch under way, which tells notes and devices line by line or, at its end, in JSON."""

    def __init__(self, process: subprocess.Popen) -> None:
        self.process = process
        self.lines: list[str] = []

    def wait_for(self, words: str) -> str:
        """Wait for the next line with these words in it."""
        for line in self.process.stdout:
            self.lines.append(line.rstrip("\n"))
            if words in line:
                return self.lines[-1]
        raise AssertionError(f"no line with {words!r} came: {self.lines}, {self.process.stderr.read()}")

    def wait_for_device(self, change: str, device: str) -> None:
        """Wait until a device is told to be `found` or `lost`."""
        self.wait_for(say(f"command.devices.{change}", device=device))

    def wait_for_places(self, count: int) -> list[Place]:
        """Wait for so many notes; their places."""
        return [_place_in(self.wait_for("string")) for _ in range(count)]

    def ended(self, number: signal.Signals = signal.SIGTERM) -> str:
        """Tell it to end, which it is to do in order and without complaint; what it printed since."""
        self.process.send_signal(number)
        out, err = self.process.communicate(timeout=AT_MOST_S)
        assert (self.process.returncode, err) == (0, ""), f"it ended with {self.process.returncode} and said {err!r}"
        return out

    def answered(self) -> dict:
        """Tell it to end; its answer in JSON."""
        return json.loads(self.ended())


def _place_in(line: str) -> Place:
    found = _PLACE.search(line)
    assert found, line
    return Place(int(found[1]), int(found[2]))


@contextmanager
def devices_watch(environment: Mapping[str, str], *words: str) -> Iterator[DevicesWatch]:
    """A watch while the block runs, listening already where it tells line by line."""
    process = subprocess.Popen(
        [sys.executable, "-m", "game", "devices", "--watch", *words],
        env=environment,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
    )
    watch = DevicesWatch(process)
    try:
        if "--json" not in words:
            watch.wait_for(say("command.devices.play"))
        yield watch
    finally:
        end(process)
        process.stdout.close()
        process.stderr.close()
