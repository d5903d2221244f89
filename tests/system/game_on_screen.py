"""The game as a process of its own in a window: keys and clicks go to it, and its practice log is asked."""

import os
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pygame

from tests.system.jack import end
from tests.system.needs import require

SIZE = (1280, 720)


@contextmanager
def a_screen(folder: Path) -> Iterator[str]:
    """A screen of the test's own while the block runs; gives its DISPLAY."""
    xvfb = require("Xvfb", package="xvfb")
    require("xdotool", package="xdotool")
    require("import", package="imagemagick")
    read, write = os.pipe()
    with (folder / "xvfb.log").open("wb") as log:
        process = subprocess.Popen(
            [xvfb, "-displayfd", str(write), "-screen", "0", f"{SIZE[0]}x{SIZE[1]}x24"],
            pass_fds=(write,), stdout=log, stderr=log,
        )  # fmt: skip
    os.close(write)
    try:
        with os.fdopen(read) as answer_of_xvfb:
            yield f":{answer_of_xvfb.readline().strip()}"
    finally:
        end(process)


class Game:
    """A running game: keys and clicks go to its window; `log` asks its practice log."""

    def __init__(self, process: subprocess.Popen, environment: dict[str, str], home: Path) -> None:
        self.process, self._environment, self._home = process, environment, home

    def xdotool(self, *words: object) -> str:
        command = ["timeout", "10", "xdotool", *map(str, words)]
        return subprocess.run(command, env=self._environment, check=True, capture_output=True, text=True).stdout

    def key(self, *names: str) -> None:
        self.xdotool("key", "--delay", "60", *names)
        time.sleep(0.3)

    def click(self, at: tuple[float, float]) -> None:
        self.xdotool("mousemove", round(at[0]), round(at[1]), "click", 1)
        time.sleep(0.12)

    def picture(self, path: Path) -> pygame.Surface:
        command = ["timeout", "20", "import", "-window", "root", str(path)]
        subprocess.run(command, env=self._environment, check=True)
        return pygame.image.load(path)

    def log(self, question: str) -> list[tuple]:
        (path,) = self._home.rglob("practice.sqlite")
        with sqlite3.connect(path) as connection:
            return connection.execute(question).fetchall()

    def wait_for(self, question: str, count: int, within_s: float = 30.0) -> list[tuple]:
        """Ask the log until it answers with `count` rows."""
        deadline = time.monotonic() + within_s
        while time.monotonic() < deadline:
            rows = self.log(question) if list(self._home.rglob("practice.sqlite")) else []
            if len(rows) >= count:
                return rows
            time.sleep(0.1)
        raise AssertionError(f"the log never answered {question!r} with {count} rows: {rows}")


@contextmanager
def game_on(display: str, home: Path, environment: dict[str, str]) -> Iterator[Game]:
    environment = {**environment, "DISPLAY": display, "HOME": str(home), "SDL_AUDIODRIVER": "dummy"}
    environment |= {"XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
    environment.pop("SDL_VIDEODRIVER", None)
    with (home / "game.log").open("wb") as log:
        process = subprocess.Popen([sys.executable, "-m", "game"], env=environment, stdout=log, stderr=log)
    game = Game(process, environment, home)
    try:
        game.xdotool("search", "--sync", "--onlyvisible", "--class", "homefret")
        # The log is opened after everything else that the first frame did not need.
        game.wait_for("SELECT name FROM sqlite_master LIMIT 1", 1)
        yield game
    finally:
        end(process)
    assert "Traceback" not in (home / "game.log").read_text(errors="replace")
