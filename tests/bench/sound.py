"""A guitar that is heard while the page scrolls: `python -m tests.bench.sound [--seconds N]`. Needs a screen, or Xvfb,
and jackd.

Another program plays plucked strings through JACK's dummy driver; the game listens to it by its own process, over the
real library. Targets: a frame at 60 a second with what was heard taken in, p99 under 10 ms; 5 % of a core for the
process that listens; notes told right. The reference is the same page before anything is listened to. The clock of both
is the same, so the way of a note is from when its first sample was handed to JACK until the frame has it, and its stamp
is held against that, too: less the first, both are the same for every note where stamps are good.
"""

import argparse
import os
import statistics
import sys
import tempfile
import threading
import time
from bisect import bisect_right
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from game.app import App
from game.clock import SystemClock
from game.instrument.decoding.played import NoteStarted
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings
from game.screens.context import ScreenContext
from game.screens.devices import Devices
from game.screens.instrument_events import InstrumentEvents
from game.screens.startup import preload_page
from game.screens.window import Window
from game.screens.window_size import open_window
from game.tunes.library.compact import pack
from tests.bench.page import SPEED_PX, dense_tune, opened_ms
from tests.instrument.listening.plucked import line
from tests.system.jack import jack_server
from tests.system.sound_line import INPUT, SoundLine, sound_line

RATE = 48_000
FRAME_S = 1 / 60
EVERY_S, FIRST_S = 0.3, 0.5
SCALE = (45, 48, 52, 57, 60, 64, 62, 59, 55, 50, 47, 43)


class Bench:
    """The game with a page that scrolls, and what it hears."""

    def __init__(self, folder: Path) -> None:
        self.clock = SystemClock()
        profile = Profile(name="", folder=folder, settings_path=folder / "s.json")
        session = open_session(profile, self.clock, settings=Settings())
        context = ScreenContext(session=session, devices=Devices(), window=Window())
        self.app = App(open_window((1920, 1080)), context)
        session.begin_practice()
        preload_page(context)
        self.app.step([])
        opened_ms(self.app, pack(dense_tune(120)))
        self.events = InstrumentEvents(context)
        self.heard: list[tuple[float, NoteStarted]] = []

    def frames(self, is_over: Callable[[int], bool]) -> tuple[list[float], list[float]]:
        """How long frames took until it is over, in ms: by the clock, and of the processor for what was heard alone."""
        times_ms, heard_ms, due_s, index = [], [], time.perf_counter(), 0
        while not is_over(index):
            began_s, used_s = time.perf_counter(), time.thread_time()
            self.events.report_changes(self.app.screen)
            for event in self.events.events():
                if isinstance(event, NoteStarted):
                    self.heard.append((self.clock.now_s(), event))
            heard_ms.append(1000 * (time.thread_time() - used_s))
            self.app.screen.view.music._animation.jump_to(float(index * SPEED_PX % 9000))
            self.app.draw()
            pygame.display.flip()
            times_ms.append(1000 * (time.perf_counter() - began_s))
            index, due_s = index + 1, max(due_s + FRAME_S, time.perf_counter())
            time.sleep(max(0.0, due_s - time.perf_counter()))
        return sorted(times_ms), sorted(heard_ms)

    def choose(self, name: str) -> None:
        """Listen to an input, and wait until it is open."""
        context = self.app.context
        context.change_settings(context.settings.changed("microphone", name))
        self.frames(lambda _: context.devices.microphone.present)


def seconds_of(number: int) -> float:
    """Processor time of a process, in seconds (Linux)."""
    fields = Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def play(player: SoundLine, bench: Bench) -> tuple[Callable[[float], float], tuple[list[float], list[float]]]:
    """Let it play once; when a moment of the line was handed over, and the frames meanwhile."""
    blocks: list[tuple[int, float]] = []
    playing = threading.Thread(target=lambda: blocks.extend(player.play()))
    playing.start()
    frames = bench.frames(lambda _: not playing.is_alive())
    firsts = [first for first, _ in blocks]

    def handed_over_s(line_s: float) -> float:
        first, at_s = blocks[bisect_right(firsts, round(line_s * RATE)) - 1]
        return at_s + line_s - first / RATE

    return handed_over_s, frames


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--seconds", type=float, default=60.0)
    count = round(parser.parse_args().seconds / EVERY_S)
    onsets_s = [FIRST_S + EVERY_S * number for number in range(count)]
    pitches = [SCALE[number % len(SCALE)] for number in range(count)]
    pygame.display.init()
    pygame.font.init()
    with tempfile.TemporaryDirectory() as folder, jack_server(Path(folder)) as environment:
        os.environ.update(environment)
        bench = Bench(Path(folder))
        before = bench.frames(lambda index: index >= 600)
        sound = line(list(zip(onsets_s, pitches, strict=True)), rate=RATE)
        with sound_line(environment, sound, RATE, Path(folder)) as player:
            bench.choose(INPUT)
            running = bench.app.context.devices.microphone.keeper._running
            process = running.process._process.pid
            used_s, from_s = seconds_of(process), time.perf_counter()
            handed_over_s, frames = play(player, bench)
            share = (seconds_of(process) - used_s) / (time.perf_counter() - from_s)
            level = bench.app.context.devices.microphone.level
        bench.events.close()
    heard = [(at_s, event.note) for at_s, event in bench.heard]
    way_ms, stamp_ms = [], []
    for onset_s, pitch in zip(onsets_s, pitches, strict=True):
        plucked_s = handed_over_s(onset_s)
        near = [(at_s, note) for at_s, note in heard if abs(note.started_s - plucked_s) < EVERY_S / 2]
        if near and near[0][1].sounding == pitch:
            way_ms.append(1000 * (near[0][0] - plucked_s))
            stamp_ms.append(1000 * (near[0][1].started_s - plucked_s))
    way_ms.sort()
    stamp_ms.sort()
    print(f"a frame, nothing listened to     {_median_and_p99(before[0])}")
    print(f"a frame while a guitar is heard  {_median_and_p99(frames[0])}         target p99 10")
    print(f"  of it for what is heard        {_median_and_p99(frames[1])}         of the processor")
    print(f"the process that listens         {100 * share:5.1f} % of a core               target 5")
    print(f"notes told right                 {len(way_ms)} of {count} ({len(heard)} told)")
    print(f"from JACK to the frame           median {statistics.median(way_ms):5.1f} ms, p95 {_p95(way_ms):5.1f}")
    spread = stamp_ms[int(0.95 * len(stamp_ms))] - stamp_ms[int(0.05 * len(stamp_ms))]
    print(f"its stamp                        median {statistics.median(stamp_ms):5.1f} ms, 5 to 95 %: {spread:4.1f}")
    print(f"blocks before which sound was lost: {level.lost if level else None}")


def _median_and_p99(values: list[float]) -> str:
    return f"median {statistics.median(values):5.2f} ms, p99 {values[int(0.99 * len(values))]:6.2f}"


def _p95(values: list[float]) -> float:
    return values[int(0.95 * len(values))]


if __name__ == "__main__":
    sys.exit(main())
