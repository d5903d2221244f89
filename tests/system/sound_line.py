"""A program that plays a line of sound into the computer, started and told to play."""

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import numpy as np

from tests.system.jack import end
from tests.system.needs import require_library, require_module

_PLAYER = Path(__file__).with_name("line_player.py")
INPUT = "PortAudio"
"""Under this name JACK shows the program as an audio input."""


class SoundLine:
    """A program that plays one line as often as it is told to."""

    def __init__(self, process: subprocess.Popen) -> None:
        self.process = process

    def play(self) -> list[tuple[int, float]]:
        """Play it to its end; the first sample of each block, and the `perf_counter` seconds at which it was handed
        over.
        """
        self.process.stdin.write("play\n")
        self.process.stdin.flush()
        return json.loads(self.answer())

    def answer(self) -> str:
        """The next line it says."""
        line = self.process.stdout.readline()
        assert line, f"the player ended with {self.process.wait()}"
        return line.strip()


@contextmanager
def sound_line(environment: Mapping[str, str], line: np.ndarray, rate: int, folder: Path) -> Iterator[SoundLine]:
    """A player while the block runs, with its port open and silent."""
    require_module("sounddevice", package="sounddevice")
    require_library("portaudio", package="libportaudio2")
    path = folder / "line.npy"
    np.save(path, line)
    process = subprocess.Popen(
        [sys.executable, str(_PLAYER), str(path), str(rate)],
        env=environment,
        text=True,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
    )
    try:
        player = SoundLine(process)
        assert player.answer() == "ready"
        yield player
    finally:
        end(process)
        process.stdin.close()
        process.stdout.close()
