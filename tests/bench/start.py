"""From the start of the process to the first frame: `python -m tests.bench.start [--runs N]`. Needs a screen, or Xvfb.

The reference does in the same run what any pygame program must: import pygame and open a window. Target: at most 1.5
times the reference, medians of pairs run in turn. Each process is stopped where its first frame has been flipped.
"""

import argparse
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
import os, sys, types
from game.commands import play_command
sys.modules["game.screens.startup"] = types.SimpleNamespace(finish_startup=lambda context: os._exit(0))
play_command.run()
"""


def seconds(program: str) -> float:
    started_s = time.perf_counter()
    subprocess.run([sys.executable, "-c", program], check=True)
    return time.perf_counter() - started_s


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--runs", type=int, default=15)
    runs = parser.parse_args().runs
    for program in (REFERENCE, GAME):
        seconds(program)
    pairs = [(seconds(REFERENCE), seconds(GAME)) for _ in range(runs)]
    reference, game = (statistics.median(column) for column in zip(*pairs, strict=True))
    ratio = statistics.median(game_s / reference_s for reference_s, game_s in pairs)
    print(f"import pygame and open a window   {reference * 1000:6.0f} ms (median of {runs})")
    print(f"start to first frame of the game  {game * 1000:6.0f} ms")
    print(f"ratio, median of pairs            {ratio:6.2f}     target at most 1.50")


if __name__ == "__main__":
    main()
