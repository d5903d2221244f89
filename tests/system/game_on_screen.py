"""The game as a process of its own in a window: keys and clicks go to it, its screen is looked at, and its practice log
is asked.
"""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

import msgspec
import pygame

from game.player.settings import Settings
from game.player.settings_file import save
from game.text.catalogue import say
from tests.system.framebuffer import picture_of
from tests.system.jack import end
from tests.system.needs import require
from tests.system.waiting import AT_MOST_S, wait_until
from tests.system.words_on_screen import FIRST_TITLE, SHELF_TITLE, TODAY_TITLE, Line, stands

SIZE = (1280, 720)


@dataclass(frozen=True, slots=True)
class Screen:
    """A virtual screen: its DISPLAY, and the file it is kept in."""

    display: str
    file: Path


@contextmanager
def a_screen(folder: Path) -> Iterator[Screen]:
    """A screen of the test's own while the block runs."""
    xvfb = require("Xvfb", package="xvfb")
    require("xdotool", package="xdotool")
    read, write = os.pipe()
    with (folder / "xvfb.log").open("wb") as log:
        words = ["-displayfd", str(write), "-screen", "0", f"{SIZE[0]}x{SIZE[1]}x24", "-noreset", "-fbdir", str(folder)]
        process = subprocess.Popen([xvfb, *words], pass_fds=(write,), stdout=log, stderr=log)
    os.close(write)
    try:
        with os.fdopen(read) as answer_of_xvfb:
            display = f":{answer_of_xvfb.readline().strip()}"
        yield Screen(display, folder / "Xvfb_screen0")
    finally:
        end(process)


class Game:
    """A running game. Keys and clicks arrive in their order and none is lost, but when is the computer's affair: wait
    for what they lead to before notes are played.
    """

    def __init__(self, process: subprocess.Popen, screen: Screen, environment: dict[str, str]) -> None:
        self.process, self._screen, self._environment = process, screen, environment
        self._home = Path(environment["HOME"])

    def end(self) -> None:
        """End the game."""
        if self.process.stdin is not None:
            self.process.stdin.close()
        end(self.process)

    def xdotool(self, *words: object) -> str:
        command = ["xdotool", *map(str, words)]
        done = subprocess.run(
            command, env=self._environment, check=True, capture_output=True, text=True, timeout=AT_MOST_S
        )
        return done.stdout

    def keys(self, *names: str) -> None:
        self.xdotool("key", "--delay", "20", *names)

    def clicks(self, places: Iterable[tuple[float, float]]) -> None:
        """Click at each place in turn."""
        words = [word for x, y in places for word in ("mousemove", round(x), round(y), "click", 1)]
        self.xdotool(*words)

    def picture(self) -> pygame.Surface:
        """What the screen shows now."""
        return picture_of(self._screen.file)

    def wait_for_picture(self, looks_right: Callable[[pygame.Surface], bool], what: str) -> pygame.Surface:
        """The screen's picture, once it looks right."""
        shown = []

        def look() -> bool:
            shown[:] = [self.picture()]
            return looks_right(shown[0])

        wait_until(look, what)
        return shown[0]

    def wait_for_words(self, line: Line, words: str) -> None:
        """Wait until these words stand in that line: what they tell of has come, and hears what is played."""
        self.wait_for_picture(lambda picture: stands(picture, line, words), f"{words!r} on the screen")

    def drop(self, path: Path) -> None:
        """Drop a file or folder on the window; the game was started by `tests.system.game_with_drops`."""
        assert self.process.stdin is not None
        self.process.stdin.write(os.fsencode(path).hex().encode() + b"\n")
        self.process.stdin.flush()

    def log(self, question: str) -> list[tuple]:
        (path,) = self._home.rglob("practice.sqlite")
        with closing(sqlite3.connect(path)) as connection, connection:
            return connection.execute(question).fetchall()

    def wait_for_rows(self, question: str, count: int) -> list[tuple]:
        """Ask the log until it answers with `count` rows."""

        def look() -> list[tuple]:
            rows = self.log(question) if list(self._home.rglob("practice.sqlite")) else []
            return rows if len(rows) >= count else []

        return wait_until(look, f"{count} rows for {question!r}")


def settings_of(home: Path) -> Path:
    """The settings file of the player of a game."""
    return home / "config" / "homefret" / "settings.json"


def keep_settings(home: Path, **changes: object) -> None:
    """Settings for the player of a game that is not started yet."""
    save(msgspec.structs.replace(Settings(), **changes), settings_of(home))


def go_to_shelf(game: Game) -> None:
    """From where the game begins to its shelf: from Today, or from the first note by way of Today."""
    begins = ((FIRST_TITLE, say("first.title")), (TODAY_TITLE, say("today.title")))
    game.wait_for_picture(
        lambda picture: any(stands(picture, line, words) for line, words in begins), "the first note, or Today"
    )
    # On the first note H plays a note, which is another one, and Esc leads to Today, as it does from the shelf.
    game.keys("h", "Escape", "h")
    game.wait_for_words(SHELF_TITLE, say("shelf.title"))


@contextmanager
def game_on(screen: Screen, home: Path, environment: dict[str, str], *, module: str = "game") -> Iterator[Game]:
    """The game with `home` as its home, its shelf on the screen and its log open. `module` starts it."""
    with begun_game(screen, home, {**environment, "SDL_AUDIODRIVER": "dummy"}, "-m", module) as game:
        go_to_shelf(game)
        # The log is opened after everything else that the first frame did not need.
        game.wait_for_rows("SELECT name FROM sqlite_master LIMIT 1", 1)
        yield game


@contextmanager
def begun_game(screen: Screen, home: Path, environment: dict[str, str], *words: str | Path) -> Iterator[Game]:
    """The game with `home` as its home, wherever it begins. `words` are those of the interpreter."""
    environment = {**environment, "DISPLAY": screen.display, "HOME": str(home)}
    environment |= {"XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config")}
    environment.pop("SDL_VIDEODRIVER", None)
    with (home / "game.log").open("wb") as log:
        process = subprocess.Popen(
            [sys.executable, *words], env=environment, stdin=subprocess.PIPE, stdout=log, stderr=log
        )
    game = Game(process, screen, environment)
    try:
        yield game
    finally:
        game.end()
    assert "Traceback" not in (home / "game.log").read_text(errors="replace")
