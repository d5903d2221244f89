"""A file that is an assignment is opened: kept, with the tunes beside it that it names."""

from contextlib import suppress
from pathlib import Path
from typing import NamedTuple
from uuid import UUID

from game.assignments.assignment import AssignedTune, AssignmentError
from game.assignments.assignment_reader import assignment_text
from game.assignments.map_file import holds_a_map_alone
from game.assignments.set_against_done import parts_of
from game.player.assigned_music import lies_beside
from game.player.assignment_facts import digest_of, plain_text
from game.player.player_assignments import OpenedAssignment
from game.screens.context import ScreenContext
from game.screens.routes import ToAssignment
from game.text.catalogue import say
from game.text.clean_text import cleaned_name

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
    _ask_for_files(context, opened, path.parent)
    return ToAssignment(opened.id)


def open_shared(context: ScreenContext) -> None:
    """Open what a teacher put into the folder that the player's computers share, and say so; looked at once a minute at
    most, and not during a take. Each is opened by itself once: what was withdrawn stays so until its file is changed,
    or dropped on the window. A file that cannot be read is told once: what is wrong with
    it, its writer learns from `homefret assign --check`.
    """
    if not context.session.assignments.is_time_to_look(context.clock.now_s(), LOOK_EVERY_S):
        return
    titles, unread = list[str](), list[str]()
    for path in context.session.sharing.assignments:
        try:
            titles += _opened_shared(context, path)
        except AssignmentError:
            unread.append(cleaned_name(path, MOST_TITLE))
    said = [say("assignment.found", titles=tuple(titles[:MOST_TITLES]))] if titles else []
    if unread:
        said.append(say("assignment.shared_unread", file=unread[0], count=len(unread)))
    if said:
        context.say(" ".join(said))


def _opened_shared(context: ScreenContext, path: Path) -> list[str]:
    """The title of one that was not opened before. Raises `AssignmentError` for one that cannot be read."""
    assignments = context.session.assignments
    try:
        if assignments.has_seen(path):
            return []
    except OSError:
        # On its way, or gone again.
        return []
    text = assignment_text(path)
    if assignments.knows(text):
        _find_files_of_known(context, text, path.parent)
        return []
    if holds_a_map_alone(path):
        return []
    opened = assignments.open(text)
    _ask_for_files(context, opened, path.parent)
    return [opened.assignment.title[:MOST_TITLE]]


def _find_files_of_known(context: ScreenContext, text: str, folder: Path) -> None:
    """Have the tunes beside it read that this computer lacks: the text may have come by the log of another one of the
    player's. Of one that is withdrawn, or has a newer form, none; those that are not there were told of when it was
    opened.
    """
    assignments, digest = context.session.assignments, digest_of(plain_text(text))
    with suppress(AssignmentError):
        opened = assignments.of(digest)
        if opened.id == digest and not opened.withdrawn:
            _ask_for_files(context, opened, folder, only_there=True)


def _ask_for_files(context: ScreenContext, opened: OpenedAssignment, folder: Path, *, only_there: bool = False) -> None:
    """Have the files that it names read into the library, or `only_there` those that lie there: no frame waits for a
    slow disk.
    """
    assignments = context.session.assignments
    for number, part in enumerate(parts_of(opened.assignment)):
        if isinstance(part, AssignedTune) and part.file_name and assignments.tune_of(opened.id, number) is None:
            if only_there and not lies_beside(part, folder):
                continue
            asked_for = _AskedFor(context.session.log.player.uuid, opened.id, number)
            context.window.awaited.ask(folder / part.file_name, asked_for)


def take_awaited(context: ScreenContext) -> bool:
    """Let the files that came be the tunes of the assignments that waited for them, and say which did not come; returns
    whether any came. Not during a take.
    """
    assignments, missing, waited = context.session.assignments, list[str](), dict[str, None]()
    for came in context.window.awaited.take():
        asked_for = came.asked_for
        if not isinstance(asked_for, _AskedFor) or asked_for.player != context.session.log.player.uuid:
            # Somebody else sits here by now; opened again it is asked for again.
            continue
        waited[asked_for.assignment] = None
        if came.entry is None:
            missing.append(cleaned_name(came.path, MOST_TITLE))
        elif assignments.is_newest_form(asked_for.assignment):
            # Of one that was corrected meanwhile the parts may have other numbers.
            assignments.name_tune(asked_for.assignment, asked_for.part, came.entry)
    for assignment_id in waited:
        with suppress(AssignmentError):
            assignments.find_tunes(assignment_id)
    if missing:
        context.say(say("assignment.files_missing", files=tuple(missing)))
    return bool(waited)


class _AskedFor(NamedTuple):
    """The part of an assignment of a player's."""

    player: UUID
    assignment: str
    part: int
