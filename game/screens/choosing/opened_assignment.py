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
