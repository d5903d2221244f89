"""From the start of the process to the first complete screen: `python -m tests.bench.start [--runs N]`. Needs a screen.

The reference does in the same run what any pygame program must: import pygame and open a window. Each process is
stopped where its frame has been flipped. The first frame is Today complete: plan, staff and neck with their ink, as
another process prepared it; so is the first note for whoever has never played. Each has a target: at most 1.5 times the
reference, medians of runs in turn. By the second frame the devices have been looked for, the log, the sound and the
engraver opened, every screen loaded, and Today made anew.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from game.clock import wall_time
from game.player.profiles import Profile
from game.screens.choosing.coming_days import prepare
from tests.screens.table import Table

REFERENCE = """
import os
os.environ["PYGAME_HIDE_SUPPORT_PROMPT"] = "1"
os.environ["SDL_FRAMEBUFFER_ACCELERATION"] = "0"
import pygame
pygame.display.init()
pygame.display.set_mode((1280, 720), pygame.RESIZABLE)
pygame.display.flip()
os._exit(0)
"""
GAME = """
import os
os.environ["PYGAME_HIDE_SUPPORT_PROMPT"] = "1"
from game.commands import play_command
play_command._pygame()
import pygame
flip, flips = pygame.display.flip, []
def flip_and_stop():
    flip()
    flips.append(None)
    if len(flips) == {frames}:
        os._exit(0)
pygame.display.flip = flip_and_stop
play_command.run()
"""
COMPILED_ONCE = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
PROGRAMS = {
    "reference": REFERENCE,
    "first note": GAME.format(frames=1),
    "Today": GAME.format(frames=1),
    "all of it": GAME.format(frames=2),
}


def home_of_reader(home: Path) -> dict[str, str]:
    """The environment of one who practised yesterday, and whose Today was prepared."""
    profile = Profile(name="", folder=home / "data" / "homefret", settings_path=home / "config" / "settings.json")
    profile.folder.mkdir(parents=True)
    table = Table(profile=profile, day=wall_time().date())
    table.day -= 1
    for rows in (("F4 q, G4 q, A4 h", "C5 q, D5 q, E5 h"), ("C4 q, D4 q, E4 h",)):
        table.open(*rows)
        table.play_through(each_s=0.4)
    table.context.session.close()
    prepare(profile, wall_time())
    return environment_in(home)


def environment_in(home: Path) -> dict[str, str]:
    return {
        **COMPILED_ONCE,
        "HOME": str(home),
        "XDG_DATA_HOME": str(home / "data"),
        "XDG_CONFIG_HOME": str(home / "config"),
    }


def seconds(program: str, environment: dict[str, str]) -> float:
    started_s = time.perf_counter()
    subprocess.run([sys.executable, "-c", program], check=True, env=environment)
    return time.perf_counter() - started_s


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=15)
    runs = parser.parse_args().runs
    driver, os.environ["SDL_VIDEODRIVER"] = os.environ.get("SDL_VIDEODRIVER"), "dummy"
    with tempfile.TemporaryDirectory() as folder:
        reader = home_of_reader(Path(folder, "reader"))
        if driver is not None:
            reader["SDL_VIDEODRIVER"] = driver
        measure(runs, Path(folder), reader)


def measure(runs: int, folder: Path, reader: dict[str, str]) -> None:
    rounds = []
    for number in range(runs + 1):
        newcomer = {**reader, **environment_in(folder / f"newcomer {number}")}
        rounds.append(
            {name: seconds(program, newcomer if name == "first note" else reader) for name, program in PROGRAMS.items()}
        )
    # The first round compiled and filled the caches of the disk.
    table = {name: [row[name] for row in rounds[1:]] for name in PROGRAMS}
    reference = statistics.median(table["reference"])
    print(f"import pygame and open a window    {reference * 1000:6.0f} ms (median of {runs})")
    for name, target in (("first note", 1.5), ("Today", 1.5), ("all of it", None)):
        ratio = statistics.median(row[name] / row["reference"] for row in rounds[1:])
        told = f"target at most {target:.2f}" if target else "all words, figures and pictures, made of the log"
        middle = statistics.median(table[name]) * 1000
        print(f"start to {name:12}              {middle:6.0f} ms, ratio {ratio:4.2f}   {told}")


if __name__ == "__main__":
    main()
