"""MIDI by numbers: `python -m tests.bench.midi`. Prints a table; nothing here fails.

Decoding is measured in processor time, so that what else runs on the machine does not count. The way from a
sender's `send_message` to the stamp in our callback runs through a JACK server of our own, sender and
receiver two processes on one monotonic clock; the 128 frames of JACK's period at 48 kHz, 2.7 ms, are part
of it.
"""

import math
import sys
import tempfile
import threading
import time
import tracemalloc
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest

from game.instrument.decoding.instrument_state import KeyboardSetup, Setup, hear, initial_state
from game.instrument.decoding.messages import decode
from game.instrument.decoding.played import NoteStarted
from game.instrument.decoding.stamped import StampedMessage
from game.instrument.decoding.strings_setup import StringsSetup
from game.instrument.ports.find_driver import find_driver
from game.instrument.ports.midi_inputs import MidiInputs
from game.neck.tuning import Place
from tests.instrument.messages_of import sounding_starts
from tests.system.jack import jack_server
from tests.system.pickup import pickup, plucked

MESSAGES = 100_000
RANDOM_BYTES = 10_000_000
NOTES_THROUGH_JACK = 1000
FRAME_S = 1 / 60
TARGET_US = 10


def main() -> int:
    """Print the table."""
    _row("what", "p50", "p99", "most", "target")
    for name, messages in _streams().items():
        _decoding(f"decode {name}", messages, decode)
        _decoding(f"strings: {name}", messages, _hearing(StringsSetup()))
        _decoding(f"keyboard: {name}", messages, _hearing(KeyboardSetup()))
    _random_bytes()
    _a_minute()
    try:
        _through_jack()
    except pytest.skip.Exception as reason:
        print(f"JACK: left out, {reason}")
    return 0


def _row(what: str, *cells: str) -> None:
    print(f"{what:44}" + "".join(f"{cell:>13}" for cell in cells), flush=True)


def _share(figures: list[float], share: float) -> float:
    return sorted(figures)[min(len(figures) - 1, math.ceil(share * len(figures)) - 1)]


def _streams() -> dict[str, list[bytes]]:
    """Messages as a six-channel guitar sends them: notes alone, and with the bends that are most of a real
    stream.
    """
    rng = Random(7)
    notes, bends = [], []
    for _ in range(MESSAGES // 2):
        channel, pitch = rng.randrange(6), rng.randrange(64, 85)
        on, off = bytes((0x90 | channel, pitch, 80)), bytes((0x80 | channel, pitch, 0))
        notes += [on, off]
        bends += [
            on,
            *(bytes((0xE0 | channel, rng.randrange(128), rng.randrange(128))) for _ in range(3)),
            off,
        ]
    return {"notes": notes[:MESSAGES], "notes and bends": bends[:MESSAGES]}


def _hearing(setup: Setup) -> Callable[[bytes], object]:
    state = initial_state(setup)

    def one(message: bytes) -> None:
        nonlocal state
        state, _ = hear(state, StampedMessage(0.0, 0.0, message, "bench"))

    return one


def _decoding(name: str, messages: list[bytes], take: Callable[[bytes], object]) -> None:
    took_us = []
    for start in range(0, len(messages), 1000):
        began = time.process_time()
        for message in messages[start : start + 1000]:
            take(message)
        took_us.append((time.process_time() - began) * 1000)
    cells = (f"{figure:.2f} µs" for figure in (_share(took_us, 0.5), _share(took_us, 0.99), max(took_us)))
    _row(f"{name} (by the thousand)", *cells, f"< {TARGET_US} µs")


def _random_bytes() -> None:
    rng = Random(11)
    state = initial_state(StringsSetup())
    began = time.process_time()
    for _ in range(RANDOM_BYTES // 10_000):
        chunk = rng.randbytes(10_000)
        for start in range(0, len(chunk), 3):
            state, _ = hear(state, StampedMessage(0.0, 0.0, chunk[start : start + 3]))
    for channel in range(16):
        state, _ = hear(state, StampedMessage(0.0, 0.0, bytes((0xB0 | channel, 123, 0))))
    left = len(sounding_starts(state))
    _row(f"{RANDOM_BYTES:,} random bytes", f"{time.process_time() - began:.1f} s", "", "", f"{left} stuck")


def _a_minute() -> None:
    """1,000 notes a second for a minute, as fast as they can be taken."""
    notes = _streams()["notes"]
    state, heard = initial_state(StringsSetup()), 0
    tracemalloc.start()
    before = None
    for number in range(120_000):
        message = StampedMessage(number / 2000, 0.0005, notes[number % len(notes)], "bench")
        state, events = hear(state, message)
        heard += sum(isinstance(event, NoteStarted) for event in events)
        if number == 10_000:
            before = tracemalloc.get_traced_memory()[0]
    grown = tracemalloc.get_traced_memory()[0] - (before or 0)
    tracemalloc.stop()
    _row("60,000 notes heard, memory grown", f"{heard:,}", f"{grown:,} B", "", "60,000")


def _through_jack() -> None:
    with tempfile.TemporaryDirectory() as folder, jack_server(Path(folder)) as environment:
        for name, busy in (("idle", False), ("with a busy main thread", True)):
            _latency(name, environment, busy=busy)


def _latency(name: str, environment: dict[str, str], *, busy: bool) -> None:
    sys.setswitchinterval(0.0005)
    inputs = MidiInputs(find_driver("jack"), time.perf_counter)
    inputs.watch()
    places = [Place(string, fret) for fret in range(23) for string in range(1, 7)]
    sent = plucked([places[n % len(places)] for n in range(NOTES_THROUGH_JACK)], every_s=0.0137)
    ended, sent_s = threading.Event(), []

    def play() -> None:
        with pickup(environment) as guitar:
            sent_s.extend(guitar.play(sent, in_time=True))
        ended.set()

    player = threading.Thread(target=play)
    player.start()
    heard = []
    while not ended.wait(0 if busy else FRAME_S):
        if busy:
            until = time.perf_counter() + 0.8 * FRAME_S
            while time.perf_counter() < until:
                pass
            time.sleep(0.2 * FRAME_S)
        heard += inputs.drain()
    player.join()
    heard += inputs.drain()
    inputs.close()
    late_ms = [(message.at_s - at_s) * 1000 for message, at_s in zip(heard, sent_s, strict=False)]
    cells = (f"{figure:.2f} ms" for figure in (_share(late_ms, 0.5), _share(late_ms, 0.99), max(late_ms)))
    _row(f"JACK, message to stamp, {name}", *cells, "2 frames")
    _row("  messages heard of sent", f"{len(heard)} / {len(sent)}")


if __name__ == "__main__":
    sys.exit(main())
