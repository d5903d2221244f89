"""An assignment out of the words of a command line: `Ode to Joy:1-4`, `3:2`, `places,time`. Pure.

Words become the table that a file would hold, and the table is read as one; so what can be set, and what is told of
what cannot, is the same by hand and by command.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from game.assignments.assignment import Assignment, AssignmentError
from game.assignments.assignment_reader import assignment_of
from game.message import Message, message

_BARS = re.compile(r"(?P<name>.*):(?P<first>\d+)(?:-(?P<last>\d+))?", re.DOTALL)
_FILES = (".musicxml", ".xml", ".mxl", ".abc", ".mid", ".midi")
_WHOLE = re.compile(r"-?\d{1,9}")


@dataclass(slots=True)
class PartInWords:
    """A tune or fresh lines, with the stages and the tempo said of it. `kind` is "tune" or "line"."""

    kind: str
    words: str
    stages: list[str] = field(default_factory=list)
    tempo: str | None = None


@dataclass(slots=True)
class AssignmentInWords:
    """All that was said. `everywhere` holds stages and tempo for parts that have none of their own; `neck_map` the
    words of the map by the names of its fields, those that were left out None.
    """

    title: str = ""
    note: str = ""
    due: str = ""
    neck_map: Mapping[str, str | None] = field(default_factory=dict)
    parts: Sequence[PartInWords] = ()
    everywhere: PartInWords = field(default_factory=lambda: PartInWords("", ""))


def _never(_title: str) -> bool:
    """No title is known."""
    return False


def assignment_from_words(said: AssignmentInWords, is_title: Callable[[str], bool] = _never) -> Assignment:
    """The assignment meant. Words that are the whole title of a tune, as `is_title` says, name no bars: `Etude 12:8`.
    Raises `AssignmentError` with every fault, each with its place.
    """
    faults: list[Message] = []
    table: dict[str, Any] = {"title": said.title, "note": said.note}
    if not said.title.strip():
        faults.append(message("assignment.add_title"))
        table["title"] = "?"
    if said.due:
        table |= _due(said.due, faults)
    neck_map = {name: _number(word) if name in ("position", "frets") else word for name, word in said.neck_map.items()}
    if any(word is not None for word in neck_map.values()):
        table["map"] = {name: word for name, word in neck_map.items() if word is not None}
    for part in said.parts:
        table.setdefault(part.kind, []).append(_part(part, said.everywhere, is_title))
    if not said.parts:
        faults.append(message("assignment.add_part"))
        table["line"] = [{"level": 1}]
    try:
        assignment = assignment_of(table)
    except AssignmentError as error:
        faults.append(error.message)
    if faults:
        raise AssignmentError("faults", faults=faults)
    return assignment


def _due(word: str, faults: list[Message]) -> dict[str, date]:
    try:
        return {"due": date.fromisoformat(word)}
    except ValueError:
        faults.append(message("assignment.due_no_day", given=word))
        return {}


def _part(part: PartInWords, everywhere: PartInWords, is_title: Callable[[str], bool]) -> dict[str, Any]:
    """The table of a part."""
    table = _tune(part.words, is_title) if part.kind == "tune" else _lines(part.words)
    stages, tempo = part.stages or everywhere.stages, part.tempo or everywhere.tempo
    if stages:
        table["stages"] = stages
    if tempo:
        table["tempo"] = _number(tempo)
    return table


def _tune(words: str, is_title: Callable[[str], bool]) -> dict[str, Any]:
    """`TITLE`, `TITLE:bar` or `TITLE:first-last`; a name with the ending of a music file is that of a file."""
    found = _BARS.fullmatch(words)
    if found and is_title(words):
        found = None
    name = (found["name"] if found else words).strip()
    table: dict[str, Any] = {"file" if name.lower().endswith(_FILES) else "title": name}
    if found:
        first = int(found["first"])
        table["bars"] = [first, int(found["last"]) if found["last"] else first]
    return table


def _lines(words: str) -> dict[str, Any]:
    """`LEVEL` or `LEVEL:a-day`."""
    level, _, a_day = words.partition(":")
    return {"level": _number(level), **({"a_day": _number(a_day)} if a_day else {})}


def _number(word: str | None) -> int | str | None:
    """The number a word is; a word that is none stays, to be told."""
    return int(word) if word and _WHOLE.fullmatch(word.strip()) else word
