"""A program that plays a line of sound through JACK, as a process of its own: `line_player.py LINE.npy RATE`.

It says "ready" once its port is there, under which others find it as an audio input. For each line on its standard
input it plays the line once, and says as JSON the `perf_counter` seconds at which each block of it was handed over,
with the number of its first sample.
"""

import json
import sys
import time

import numpy as np
import sounddevice as sd

AFTER = 8192
"""Samples of silence after the line, so that it has arrived when it is said to be done."""


def main() -> None:
    line = np.concatenate((np.load(sys.argv[1]).astype(np.float32), np.zeros(AFTER, np.float32)))
    at, handed_over = len(line), []

    def give(out, length, _times, _status) -> None:
        nonlocal at
        if at < len(line):
            handed_over.append((at, time.perf_counter()))
        part = line[at : at + length]
        out[: len(part), 0], out[len(part) :, 0] = part, 0
        at += len(part)

    device = next(index for index, one in enumerate(sd.query_devices()) if one["name"] == "system")
    with sd.OutputStream(device=device, samplerate=int(sys.argv[2]), channels=1, dtype="float32", callback=give):
        print("ready", flush=True)
        for _ in sys.stdin:
            handed_over.clear()
            at = 0
            while at < len(line):
                time.sleep(0.01)
            print(json.dumps(handed_over), flush=True)


if __name__ == "__main__":
    main()
