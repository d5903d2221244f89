"""Files that are dropped on the window, or that the program was begun with: tunes, and assignments of a teacher."""

from pathlib import Path

from game.screens.base_screen import BaseScreen
from game.screens.choosing.import_words import import_told
from game.screens.context import ScreenContext
from game.screens.routes import Route, ToAssignment
from game.text.catalogue import say


def dropped(context: ScreenContext, screen: BaseScreen, path: Path) -> Route | None:
    """Tunes are read beside whatever goes on; an assignment waits for the end of a take. Returns where it leads."""
    if not is_assignment(path):
        context.say(import_told(context.window.imports.drop(path)))
    elif screen.in_take:
        context.say(say("assignment.later"))
    else:
        return ToAssignment(path)
    return None


def is_assignment(path: Path) -> bool:
    """Whether a file is one by its name."""
    return path.suffix.casefold() == ".toml"
