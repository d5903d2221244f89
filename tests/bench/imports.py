"""Five hundred files dropped at once, and the window meanwhile: `python -m tests.bench.imports [FOLDER] [--files N]`.

FOLDER holds tunes of any kind; without it they are made. Needs a screen, or Xvfb. Targets: 50 ms of processor time a
file, reading process and library included; progress told; while a page scrolls behind it all, p99 of a frame under
10 ms, at 1920x1080 in software, flip included. The references are the same page in the same run with nothing read, and
beside a process that only counts, at the rank of the reading process: what a busy machine costs. Where others work on
it, `chrt -R -r 10` before this and before Xvfb keeps them away from the window, and not from what it starts.
"""

import argparse
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from resource import RUSAGE_CHILDREN, RUSAGE_SELF, getrusage

os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")

import pygame

from game.app import App
from game.clock import SystemClock
from game.player.profiles import Profile
from game.player.session import open_session
from game.player.settings import Settings
from game.practice.take_request import request_for
from game.screens.context import ScreenContext
from game.screens.devices import Devices, StaticInstruments
from game.screens.routes import ToPage, ToShelf
from game.screens.window import Window
from game.screens.window_picture import FRAMES_A_SECOND
from game.screens.window_size import open_window
from game.tunes.library.adding import TUNE_NAMES
from game.tunes.library.import_results import ImportProgress
from tests.bench.page import SPEED_PX, dense_tune
from tests.tunes.hand_written import zipped
from tests.tunes.made_tunes import abc, midi, musicxml

_SWITCH_INTERVAL_S = 0.0005
_REFERENCE_FRAMES = 600


@dataclass
class Frames:
    """How long each took, in ms, and of that in processor time of the window itself; which files were told of."""

    ms: list[float] = field(default_factory=list)
    own_ms: list[float] = field(default_factory=list)
    told: set[int] = field(default_factory=set)

    def said(self) -> str:
        """The usual frame, the slow ones and the slowest."""
        ordered, own = sorted(self.ms), sorted(self.own_ms)
        p50, p99 = (ordered[int(len(ordered) * share)] for share in (0.5, 0.99))
        return (
            f"median {p50:5.2f} ms, p99 {p99:5.2f}, slowest {ordered[-1]:5.1f}; processor time p99"
            f" {own[int(len(own) * 0.99)]:5.2f}"
        )


def chosen_files(folder: Path | None, count: int, home: Path) -> Path:
    """A folder with so many files: copies of those there are, or tunes that are made."""
    into = home / "dropped"
    into.mkdir()
    if folder is None:
        makers = (
            ("abc", abc),
            ("mid", midi),
            ("musicxml", musicxml),
            ("mxl", lambda n: zipped(("t.xml", musicxml(n)))),
        )
        for number in range(count):
            ending, maker = makers[number % len(makers)]
            (into / f"{number:04}.{ending}").write_bytes(maker(number))
        return into
    found = sorted(path for path in folder.rglob("*") if path.suffix.lower() in TUNE_NAMES and path.is_file())
    for number, path in enumerate(found[:count]):
        shutil.copy(path, into / f"{number:04}{path.suffix}")
    return into


def app_at(home: Path) -> App:
    profile = Profile(name="", folder=home, settings_path=home / "s.json")
    session = open_session(profile, SystemClock(), settings=Settings())
    devices = Devices(instruments=StaticInstruments(present=True))
    context = ScreenContext(session=session, devices=devices, window=Window())
    app = App(open_window((1920, 1080)), context)
    session.begin_practice()
    app.step([])
    return app


def scrolled(app: App, frames: Frames, going_on) -> None:
    """Draw the page sixty times a second, moved on each time, as long as something goes on."""
    index = 0
    while going_on():
        begun, own = time.perf_counter(), time.thread_time()
        app.screen.view.music._animation.jump_to(float(index * SPEED_PX % 9_000))
        app.take_in([])
        app.draw()
        pygame.display.flip()
        taken = time.perf_counter() - begun
        frames.ms.append(taken * 1000)
        frames.own_ms.append((time.thread_time() - own) * 1000)
        progress = app.context.window.imports.going_on
        if isinstance(progress, ImportProgress):
            frames.told.add(progress.number)
        time.sleep(max(0.0, 1 / FRAMES_A_SECOND - taken))
        index += 1


@contextmanager
def counting() -> Iterator[None]:
    """A process that only counts, at the rank of the reading process."""
    process = subprocess.Popen([sys.executable, "-c", "import os; os.nice(10)\nwhile True: pass"])
    try:
        yield
    finally:
        process.kill()
        process.wait()


def used_s() -> tuple[float, float]:
    """Seconds of processor time of this process, and of those that ended."""
    return tuple(used.ru_utime + used.ru_stime for used in map(getrusage, (RUSAGE_SELF, RUSAGE_CHILDREN)))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", nargs="?", type=Path)
    parser.add_argument("--files", type=int, default=500)
    args = parser.parse_args()
    sys.setswitchinterval(_SWITCH_INTERVAL_S)
    pygame.display.init()
    pygame.font.init()
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        os.environ |= {"XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
        dropped = chosen_files(args.folder, args.files, home)
        app = app_at(home)
        app.go(ToPage(request_for(dense_tune(32), app.context.settings.neck_map()).whole_or_passages()))
        still = Frames()
        before, _ = used_s()
        scrolled(app, still, lambda: len(still.ms) < _REFERENCE_FRAMES)
        a_frame_s = (used_s()[0] - before) / len(still.ms)
        print(f"reference: the page scrolls by itself    {still.said()}")
        with counting():
            beside = Frames()
            scrolled(app, beside, lambda: len(beside.ms) < _REFERENCE_FRAMES)
        print(f"reference: beside a process that counts  {beside.said()}")
        imports = app.context.window.imports
        begun, (here, there) = time.perf_counter(), used_s()
        imports.drop(dropped)
        busy = Frames()
        scrolled(app, busy, lambda: imports.busy)
        here, there = (now - then for now, then in zip(used_s(), (here, there), strict=True))
        files = imports.last.files
        print(f"the same while {files} files are read       {busy.said()}        target 10")
        own_s = here - a_frame_s * len(busy.ms)
        print(
            f"a file: {1000 * (there + own_s) / files:5.1f} ms of processor time, {1000 * there / files:5.1f} of it in"
            f" the reading process, {1000 * own_s / files:4.1f} here beside the frames        target 50"
        )
        print(
            f"{len(imports.last.entries)} tunes came, {len(imports.last.faults)} files were refused, in"
            f" {time.perf_counter() - begun:.1f} s; {len(busy.told)} of {files} were told on the way"
        )
        begun = time.perf_counter()
        app.go(ToShelf())
        app.step([])
        print(f"to the shelf with all of them            {(time.perf_counter() - begun) * 1000:6.1f} ms")


if __name__ == "__main__":
    main()
