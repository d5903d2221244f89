"""A file that is an assignment is opened: kept, with the tunes beside it that it names."""

from pathlib import Path

from game.assignments.assignment import AssignedTune, AssignmentError
from game.assignments.assignment_reader import assignment_text
from game.assignments.set_against_done import parts_of
from game.errors import TuneError
from game.player.player_assignments import OpenedAssignment
from game.screens.context import ScreenContext
from game.screens.routes import ToAssignment
from game.text.catalogue import say
from game.text.clean_text import cleaned_name
from game.tunes.library.library import add

LOOK_EVERY_S = 60.0
MOST_TITLES, MOST_TITLE = 3, 60
"""So many titles are told of what was found, and so many letters of each."""


def opened_assignment(context: ScreenContext, path: Path) -> ToAssignment | None:
    """Open the assignment in a file; where that leads. None, with a sentence, where it cannot be read. Files that it
    names go into the library, so that it needs its folder no more; of those that are not there its sheet tells.
    """
    try:
        text = assignment_text(path)
    except AssignmentError as error:
        context.say_error(error)
        return None
    try:
        opened = context.session.assignments.open(text)
    except AssignmentError as error:
        context.say_error(AssignmentError("assignment.in_file", file=cleaned_name(path), fault=error))
        return None
    missing = _add_files(context, opened, path.parent)
    if missing:
        context.say(say("assignment.files_missing", files=tuple(missing)))
    return ToAssignment(opened.id)


def open_shared(context: ScreenContext) -> None:
    """Open what a teacher put into the folder that the player's computers share, and say so; looked at once a minute at
    most, and not during a take. Each is opened by itself once: what was withdrawn stays so until its file is changed,
    or dropped on the window. A file that cannot be read is passed over: its writer has `homefret assign --check`.
    """
    if not context.session.assignments.is_time_to_look(context.clock.now_s(), LOOK_EVERY_S):
        return
    titles = [title for path in context.session.shared_assignments for title in _opened_shared(context, path)]
    if titles:
        context.say(say("assignment.found", titles=tuple(titles[:MOST_TITLES])))


def _opened_shared(context: ScreenContext, path: Path) -> list[str]:
    """The title of one that was not opened before."""
    assignments = context.session.assignments
    try:
        if assignments.has_seen(path):
            return []
        text = assignment_text(path)
        if assignments.knows(text):
            return []
        opened = assignments.open(text)
    except (OSError, AssignmentError):
        return []
    _add_files(context, opened, path.parent)
    return [opened.assignment.title[:MOST_TITLE]]


def _add_files(context: ScreenContext, opened: OpenedAssignment, folder: Path) -> list[str]:
    """Put the files that it names into the library; returns the names of those that are not there."""
    assignments, missing, added = context.session.assignments, list[str](), False
    for number, part in enumerate(parts_of(opened.assignment)):
        if isinstance(part, AssignedTune) and part.file_name and assignments.tune_of(opened.id, number) is None:
            try:
                assignments.name_tune(opened.id, number, add(folder / part.file_name))
                added = True
            except TuneError:
                missing.append(part.file_name)
    if added:
        assignments.find_tunes(opened.id)
    return missing
