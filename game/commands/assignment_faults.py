"""What is wrong with an assignment beside what its file says: held against the shelf, the calendar, and its folder."""

from collections import Counter
from collections.abc import Sequence
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from game.assignments.assignment import AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import assignment_and_faults, assignment_text
from game.message import Message, message
from game.music.written import written_out
from game.player.assigned_music import lies_beside, same_title, tune_titled
from game.text.clean_text import cleaned_name
from game.tunes.library.library import open_entry, shelf
from game.tunes.library.shelf_entry import ShelfEntry

MOST_NEAR = 3
"""So many titles are told that are like one which is on no shelf."""


def checked_assignment(path: Path, today: date) -> Assignment:
    """The assignment in a file with which nothing is wrong. Raises `AssignmentError` with every fault at once: those of
    the file, and what the shelf, its folder and the day of the teacher say.
    """
    text = assignment_text(path)
    try:
        assignment, faults = assignment_and_faults(text)
    except AssignmentError as error:
        raise AssignmentError("assignment.in_file", file=cleaned_name(path), fault=error) from error
    tunes = assignment.tunes
    faults += faults_of_tunes(tunes)
    faults += [
        message("command.assign.file_missing", number=number, name=tune.file_name)
        for number, tune in enumerate(tunes, start=1)
        if tune.file_name and not lies_beside(tune, path.parent)
    ]
    faults += faults_of_day(assignment.due, today)
    if faults:
        raise AssignmentError("assignment.in_file", file=cleaned_name(path), fault=message("faults", faults=faults))
    return assignment


def faults_of_day(due: date | None, today: date) -> list[Message]:
    """A day that is over cannot be met any more; today can."""
    return [message("command.assign.due_over", day=due.isoformat())] if due is not None and due < today else []


def is_title_on_shelf(title: str) -> bool:
    """Whether a tune on the shelf is called so."""
    return tune_titled(title, shelf()) is not None


def faults_of_tunes(tunes: Sequence[AssignedTune]) -> list[Message]:
    """What the shelf says to tunes that are named by their title."""
    entries = shelf() if any(tune.title for tune in tunes) else ()
    faults = []
    for number, tune in enumerate(tunes, start=1):
        found = tune_titled(tune.title, entries) if tune.title else None
        if tune.title and found is None:
            faults.append(_no_such_tune(number, tune.title, entries))
        elif found is not None and tune.bars is not None and not _has_bars(found, tune.bars):
            first, last = tune.bars
            faults.append(
                message("command.assign.no_such_bars", number=number, title=found.title, first=first, last=last)
            )
    return faults


def twins_of_tunes(tunes: Sequence[AssignedTune]) -> list[Message]:
    """A word for each tune whose title stands on the shelf more than once: the student's may have them in other order,
    or only one.
    """
    entries = shelf() if any(tune.title for tune in tunes) else ()
    often = Counter(same_title(entry.title) for entry in entries if not entry.retired)
    return [
        message("command.assign.title_of_several", number=number, title=tune.title, count=often[same_title(tune.title)])
        for number, tune in enumerate(tunes, start=1)
        if tune.title and often[same_title(tune.title)] > 1
    ]


def _no_such_tune(number: int, title: str, entries: Sequence[ShelfEntry]) -> Message:
    """With the titles that are nearest, where any are."""
    titles = {same_title(entry.title): entry.title for entry in entries}
    near = get_close_matches(same_title(title)[:200], titles, n=MOST_NEAR)
    if near:
        said = tuple(titles[one] for one in near)
        return message("command.assign.misspelt_tune", number=number, title=title, near=said)
    return message("command.assign.no_such_tune", number=number, title=title)


def _has_bars(entry: ShelfEntry, bars: tuple[int, int]) -> bool:
    """Whether the bars are there in order of play, and hold a note."""
    played = written_out(open_entry(entry)).bars
    numbers = [bar.number for bar in played]
    first, last = (str(number) for number in bars)
    if first not in numbers or last not in numbers[numbers.index(first) :]:
        return False
    start = numbers.index(first)
    return any(bar.notes for bar in played[start : numbers.index(last, start) + 1])
