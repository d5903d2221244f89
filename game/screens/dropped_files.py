"""Files that are dropped on the window, or that the program was begun with: tunes, assignments of a teacher, maps."""

from pathlib import Path

from game.assignments.assignment_reader import ENDING
from game.assignments.map_file import holds_a_map_alone
from game.screens.base_screen import BaseScreen
from game.screens.choosing.import_words import import_told
from game.screens.context import ScreenContext
from game.screens.routes import Route
from game.screens.setup.map_from_file import keep_map_from
from game.text.catalogue import say
from game.text.clean_text import has_ending


def dropped(context: ScreenContext, screen: BaseScreen, path: Path) -> Route | None:
    """Tunes are read beside whatever goes on; an assignment or a map waits for the end of a take. Returns where it
    leads.
    """
    if not is_assignment(path):
        context.say(import_told(context.window.imports.drop(path)))
    elif screen.in_take:
        context.say(say("assignment.later"))
    else:
        return opened_text(context, path)
    return None


def opened_text(context: ScreenContext, path: Path) -> Route | None:
    """A map is kept, an assignment opened. Returns where it leads. Not during a take."""
    if holds_a_map_alone(path):
        return keep_map_from(context, path)
    # What it is kept by comes with the log: the first frame does without.
    from game.screens.choosing.opened_assignment import opened_assignment  # noqa: PLC0415

    return opened_assignment(context, path)


def is_assignment(path: Path) -> bool:
    """Whether a file is one by its name, or a map, which is a text of the same kind."""
    return has_ending(path, ENDING)
