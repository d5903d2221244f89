"""From the start of the process to the first complete screen: `python -m tests.bench.start [--runs N]`. Needs a screen.

The reference does in the same run what any pygame program must: import pygame and open a window. Each process is
stopped where its frame has been flipped. The first frame is the whole shelf but for one sentence, and has a target: at
most 1.5 times the reference, medians of runs in turn. The sentence is about the instruments: with it, in the second
frame, all words, figures and pictures of the shelf are there; by then the devices have been looked for, the log, the
sound and the engraver opened, and every screen loaded.
"""

import argparse
import os
import statistics
import subprocess
import sys
import time

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
PROGRAMS = (REFERENCE, GAME.format(frames=1), GAME.format(frames=2))


def seconds(program: str) -> float:
    started_s = time.perf_counter()
    subprocess.run([sys.executable, "-c", program], check=True, env=COMPILED_ONCE)
    return time.perf_counter() - started_s


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=15)
    runs = parser.parse_args().runs
    for program in PROGRAMS:
        seconds(program)
    rounds = [tuple(map(seconds, PROGRAMS)) for _ in range(runs)]
    reference, first, complete = (statistics.median(column) * 1000 for column in zip(*rounds, strict=True))
    ratio = statistics.median(first_s / reference_s for reference_s, first_s, _ in rounds)
    print(f"import pygame and open a window   {reference:6.0f} ms (median of {runs})")
    print(f"start to first frame of the game  {first:6.0f} ms")
    print(f"ratio, median of pairs            {ratio:6.2f}     target at most 1.50")
    print(f"start to first complete screen    {complete:6.0f} ms (all words, figures and pictures of the shelf)")


if __name__ == "__main__":
    main()
