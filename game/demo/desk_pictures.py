"""Pictures for people who look before they install, of the real program: `python -m game.demo.desk_pictures [FOLDER]`.

A made-up learner practises for two weeks; then the first note, Today, a take, its result, the book and the progress are
kept as they stand there, and laid into a guide of one page to print, with the words that say what each is for.
"""

import os
import sys
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from typing import Final

from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.demo.demonstration import Demonstration
from game.report.printed_guide import GuidePicture, printed_guide
from game.screens.reading.metronome_page import MetronomePage
from game.screens.routes import Route, ToBook, ToFirstStart, ToProgress, ToToday
from game.screens.tabbed_sheet import ENTER
from game.text.catalogue import say
from game.text.language import choose_language

FOLDER: Final = Path("content", "pictures")
GUIDE: Final = "guide.pdf"
NAMES: Final = ("first-note", "today", "take", "result", "book", "progress")
_DAYS, _SEED = 14, 5
_FIRST_NOTES = 9
_MOST_TAKES = 6


class PicturedPractice(Demonstration):
    """Two weeks of practice, and what the desk looks like then."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder, Random(_SEED), fast=True, days=_DAYS)

    def keep_pictures(self, folder: Path) -> Iterator[Path]:
        """Keep each picture in `folder`; gives their paths, in the order of `NAMES`."""
        self.practise()
        self._begin_day()
        yield self._kept(folder, "first-note", ToFirstStart())
        yield self._kept(folder, "today", ToToday())
        yield from self._a_take(folder)
        yield self._kept(folder, "book", ToBook())
        yield self._kept(folder, "progress", ToProgress())
        self.leave()

    def _a_take(self, folder: Path) -> Iterator[Path]:
        """The tune with the click, in the middle of it and after it."""
        page = self._open_passage()
        page.begin()
        line = self._line(page)
        for due_s, sounding in islice(line, _FIRST_NOTES):
            self.game.wait(due_s - self.game.clock.now_s())
            self.game.hear(sounding, at_s=due_s)
        yield self._kept(folder, "take")
        for due_s, sounding in line:
            self.game.wait(due_s - self.game.clock.now_s())
            self.game.hear(sounding, at_s=due_s)
        while self.game.app.screen is page:
            self.game.wait(0.1)
        self.game.wait(1.0)
        yield self._kept(folder, "result")

    def _open_passage(self) -> MetronomePage:
        """Go on with the passage of today's plan until it is played with the click."""
        plan = self.game.session.plan
        kinds = [step.kind for step in plan.progress.steps]
        plan.choose(kinds.index(StepKind.PASSAGE))
        self.game.app.go(ToToday())
        for _ in range(_MOST_TAKES):
            self.game.step([ENTER.event])
            if isinstance(self.game.app.screen, MetronomePage) and self.game.app.screen.request.stage is Stage.TIME:
                return self.game.app.screen
            self._take()
        raise RuntimeError("nothing of the plan is played with the click")

    def _kept(self, folder: Path, name: str, route: Route | None = None) -> Path:
        self.game.app.go(route)
        self.game.app.context.window.message_until_s = 0.0
        self.game.wait(0.5)
        self.game.app.screen.resized()
        path = folder / f"{name}.png"
        self.game.save_picture(path)
        return path


def main(folder: Path = FOLDER) -> int:
    """Make pictures and guide anew in `folder`; what was there is replaced."""
    choose_language("en")
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory(prefix="homefret-") as log:
        paths = list(PicturedPractice(Path(log)).keep_pictures(folder))
    told = [GuidePicture(path, say(f"guide.{name}")) for path, name in zip(paths, NAMES, strict=True)]
    (folder / GUIDE).write_bytes(printed_guide(told))
    return 0


if __name__ == "__main__":
    os.environ["SDL_VIDEODRIVER"] = os.environ["SDL_AUDIODRIVER"] = "dummy"
    sys.exit(main(*map(Path, sys.argv[1:2])))
