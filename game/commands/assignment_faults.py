"""What is wrong with an assignment beside what its file says: held against the shelf, the calendar, and its folder."""

import tomllib
from collections.abc import Sequence
from datetime import date
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from game.assignments.assignment import AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import assignment_from, assignment_text
from game.message import Message, message
from game.music.written import written_out
from game.player.assigned_music import same_title, tune_titled
from game.text.clean_text import cleaned, cleaned_name
from game.tunes.library.library import open_entry, shelf
from game.tunes.library.shelf_entry import ShelfEntry

MOST_NEAR = 3
"""So many titles are told that are like one which is on no shelf."""


def checked_assignment(path: Path, today: date) -> Assignment:
    """The assignment in a file with which nothing is wrong. Raises `AssignmentError` with every fault at once: those of
    the file, and what the shelf, its folder and the day of the teacher say.
    """
    text = assignment_text(path)
    faults: list[Message] = []
    assignment = None
    try:
        assignment = assignment_from(text)
    except AssignmentError as error:
        faults.append(error.message)
    tunes = _named_tunes(text) if assignment is None else assignment.tunes
    due = _named_day(text) if assignment is None else assignment.due
    faults += faults_of_tunes(tunes)
    faults += [
        message("command.assign.file_missing", number=number, name=tune.file_name)
        for number, tune in enumerate(tunes, start=1)
        if tune.file_name and not (path.parent / tune.file_name).is_file()
    ]
    faults += faults_of_day(due, today)
    if faults or assignment is None:
        raise AssignmentError("assignment.in_file", file=cleaned_name(path), fault=message("faults", faults=faults))
    return assignment


def faults_of_day(due: date | None, today: date) -> list[Message]:
    """A day that is over cannot be met any more; today can."""
    return [message("command.assign.due_over", day=due.isoformat())] if due is not None and due < today else []


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


def _named_day(text: str) -> date | None:
    """The due day of a file that is wrong elsewhere, as far as that can be told."""
    day = _as_it_stands(text).get("due")
    return day if type(day) is date else None


def _as_it_stands(text: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError):
        return {}


def _named_tunes(text: str) -> list[AssignedTune]:
    """The tunes that a file names which is wrong elsewhere, as far as that can be told."""
    tables = _as_it_stands(text).get("tune", [])
    titles = (
        [table.get("title") if isinstance(table, dict) else None for table in tables[:50]]
        if isinstance(tables, list)
        else []
    )
    return [AssignedTune(title=cleaned(title) if isinstance(title, str) else "") for title in titles]
