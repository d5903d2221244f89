"""A map as a file of its own, in TOML: written, and read again with all faults told at once.

A file from elsewhere is hostile: it is as long as an assignment at most, and its text is cleaned.
"""

from pathlib import Path
from typing import Final

from game.assignments.assignment import AssignmentError
from game.assignments.assignment_reader import assignment_text
from game.assignments.fields import unknown_field
from game.assignments.map_table import map_of, map_rows
from game.assignments.toml_table import table_in
from game.errors import MapError
from game.message import Message, message
from game.neck.neck_map import NeckMap
from game.text.catalogue import say
from game.text.clean_text import cleaned, cleaned_name

MAP_ENDING: Final = ".toml"
_REMARK: Final = "# "


def map_text(neck_map: NeckMap) -> str:
    """The file of a map, its first line a remark that says what it is. Raises `ValueError` for a hand that no file can
    say (`game.assignments.map_table`).
    """
    return "\n".join((_REMARK + say("map_file.heading"), *map_rows(neck_map))) + "\n"


def read_map(path: Path) -> NeckMap:
    """The map in a file. Raises `MapError` with every fault, each with its place."""
    try:
        text = assignment_text(path)
    except AssignmentError as error:
        raise MapError(error.message) from error
    try:
        return map_from_text(text)
    except MapError as error:
        raise MapError("assignment.in_file", file=cleaned_name(path), fault=error.message) from error


def holds_a_map_alone(path: Path) -> bool:
    """Whether a file holds a map and no assignment; no for one that cannot be read."""
    try:
        table = table_in(assignment_text(path))
    except (AssignmentError, ValueError):
        return False
    return "map" in table and not {"title", "tune", "line"} & table.keys()


def map_from_text(text: str) -> NeckMap:
    """The map in a text. Raises `MapError` with every fault, each with its place."""
    try:
        table = table_in(text)
    except ValueError as error:
        raise MapError("map_file.no_toml", fault=cleaned(str(error), 160)) from error
    faults: list[Message] = [unknown_field(name, ("map",)) for name in table if name != "map"]
    neck_map = map_of(table["map"], faults) if "map" in table else None
    if "map" not in table:
        faults.append(message("map_file.no_map"))
    if faults or neck_map is None:
        raise MapError("faults", faults=faults)
    return neck_map
