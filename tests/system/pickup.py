"""A second process that behaves as a pickup: starts `midi_sender.py`, and talks with it."""

import json
import subprocess
import sys
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from game.instrument.decoding.delay import NO_DELAY, Delay
from game.neck.tuning import STANDARD, Place
from tests.system.jack import end

_SENDER = Path(__file__).with_name("midi_sender.py")

# What a pickup sends: seconds from the start, and the bytes of one message.
Sent = tuple[float, list[int]]


class Pickup:
    """A running sender."""

    def __init__(self, process: subprocess.Popen) -> None:
        self.process = process

    def play(self, sent: Iterable[Sent], *, in_time: bool = False) -> list[float]:
        """Play a list to its end; gives the `perf_counter` seconds at which each message was handed over. Unless it is
        to be `in_time`, no two messages come nearer to each other than in the list, however busy the computer is.
        """
        self.process.stdin.write(json.dumps({"in_time": in_time, "sent": list(sent)}) + "\n")
        self.process.stdin.flush()
        return json.loads(self._answer())

    def is_ready(self) -> None:
        """Wait until it is connected."""
        assert self._answer().startswith("ready")

    def _answer(self) -> str:
        line = self.process.stdout.readline()
        assert line, f"the sender ended with {self.process.wait()}"
        return line


@contextmanager
def pickup(environment: Mapping[str, str], *words: str) -> Iterator[Pickup]:
    """A sender while the block runs, connected; `words` are its arguments."""
    process = subprocess.Popen(
        [sys.executable, str(_SENDER), *words],
        env=environment,
        text=True,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    try:
        sender = Pickup(process)
        sender.is_ready()
        yield sender
    finally:
        end(process)
        process.stdin.close()
        process.stdout.close()


def plucked(places: Iterable[Place], *, every_s: float, from_s: float = 0.0, delay: Delay = NO_DELAY) -> list[Sent]:
    """Places in standard tuning as a six-channel guitar plays them, one after another, each with a rest as long as
    itself after it, and told with the `delay` of a pickup.
    """
    sent: list[Sent] = []
    for number, place in enumerate(places):
        channel, pitch = place.string - 1, STANDARD.sounding(place)
        at_s = from_s + number * every_s + delay.of(pitch)
        sent.append((at_s, [0x90 | channel, pitch, 90]))
        sent.append((at_s + every_s / 2, [0x80 | channel, pitch, 0]))
    return sent
