"""In the place of sounddevice, for a process of its own: one input, on which a thread plays an A every half second.

`BENCH_SOUND` is a folder. A file `absent` in it takes the input away at the next look, `silent` stops what comes,
`bursts` hands over a quarter of a second at once.
"""

import os
import threading
import time
from pathlib import Path

import numpy as np

RATE, BLOCK = 44_100, 256
EVERY_S = 0.5
_FOLDER = Path(os.environ["BENCH_SOUND"])


def _terminate():
    """Nothing is kept."""


def _initialize():
    """Nothing is kept."""


def _is(word):
    return (_FOLDER / word).exists()


def query_hostapis():
    return ({"name": "ALSA"},)


def query_devices():
    there = {"name": "bench input (hw:3,0)", "max_input_channels": 2, "default_samplerate": float(RATE), "hostapi": 0}
    return [] if _is("absent") else [there]


def _pluck():
    times_s = np.arange(round(EVERY_S * RATE)) / RATE
    partials = [np.exp(-3 * n * times_s) * np.sin(2 * np.pi * 110 * n * times_s) / n for n in range(1, 9)]
    return (0.25 * sum(partials)).astype(np.float32)


class InputStream:
    def __init__(self, **terms):
        self._terms, self.active = terms, False
        self._thread = threading.Thread(target=self._play, daemon=True)

    def start(self):
        self.active = True
        self._thread.start()

    def close(self, ignore_errors=True):  # noqa: ARG002 - as sounddevice has it
        self.active = False

    def _play(self):
        pluck, channels = _pluck(), self._terms["channels"]
        (_FOLDER / "opened").write_text(str(os.getpid()))
        began_s, given = time.perf_counter(), 0
        at_once = 44 if _is("bursts") else 1
        while self.active:
            due_s = began_s + (given + at_once * BLOCK) / RATE
            time.sleep(max(0.0, due_s - time.perf_counter()))
            for _ in range(at_once):
                at = np.arange(given, given + BLOCK) % len(pluck)
                block = np.repeat(pluck[at][:, None], channels, axis=1)
                given += BLOCK
                if not _is("silent"):
                    self._terms["callback"](block, BLOCK, None, False)
