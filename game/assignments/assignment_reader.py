"""Reads an assignment: a TOML file that a teacher can write by hand. All its faults are told at once.

A file from elsewhere is hostile: its size and the number of its entries have caps, its text is cleaned, and a file it
names is a name, never a path.
"""

import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from game.assignments.assignment import (
    HIGHEST_BPM,
    HIGHEST_LEVEL,
    LONGEST_NOTE,
    LOWEST_BPM,
    AssignedLines,
    AssignedTune,
    Assignment,
    AssignmentError,
)
from game.assignments.fields import Fields
from game.assignments.map_table import map_of
from game.assignments.toml_table import table_in
from game.assignments.written_by_hand import table_by_hand
from game.errors import reason_of
from game.message import Message, message
from game.text.clean_text import cleaned, cleaned_name
from game.text.no_file_words import kind_of_no_file

ENDING = ".toml"
MAX_BYTES = 100_000
MAX_ENTRIES = 50
MOST_LINES_A_DAY = 20
_TOP = ("title", "note", "due", "map", "tune", "line")
_TUNE = ("title", "file", "bars", "stages", "tempo")
_LINE = ("level", "a_day", "stages", "tempo")
_NO_NAME = re.compile(r'[/\\:*?"<>|]')


def read_assignment(path: Path) -> Assignment:
    """The assignment in a file. Raises `AssignmentError` with every fault, each with its place."""
    text = assignment_text(path)
    try:
        return assignment_from(text)
    except AssignmentError as error:
        raise AssignmentError("assignment.in_file", file=cleaned_name(path), fault=error) from error


def assignment_text(path: Path) -> str:
    """What stands in the file of an assignment, in UTF-8 or UTF-16. Raises `AssignmentError` where it is too long or
    no text.
    """
    try:
        kind = kind_of_no_file(path.stat().st_mode)
        if kind is not None:
            raise AssignmentError("transfer.no_plain_file", file=cleaned_name(path), kind=message(kind))
        with path.open("rb") as file:
            raw = file.read(MAX_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = reason_of(error)
        raise AssignmentError("assignment.cannot_be_read", file=path, reason=reason) from error
    if len(raw) > MAX_BYTES:
        raise AssignmentError("assignment.too_long", file=path.name, limit_kb=MAX_BYTES // 1000)
    try:
        # Editors that call UTF-16 "Unicode" put its mark in front (RFC 2781).
        return raw.decode("utf-16" if raw.startswith((b"\xff\xfe", b"\xfe\xff")) else "utf-8-sig")
    except UnicodeDecodeError as error:
        raise AssignmentError("assignment.no_utf8", file=path.name) from error


def assignment_from(text: str) -> Assignment:
    """The assignment in a text. Raises `AssignmentError` with every fault, each with its place."""
    return _without_fault(*assignment_and_faults(text))


def assignment_and_faults(text: str) -> tuple[Assignment, list[Message]]:
    """What of a text can be read as an assignment, and every fault, each with its place: a field in which one is stands
    as if it had been left out. Raises `AssignmentError` where nothing can be read.
    """
    try:
        return _read(table_in(text))
    except ValueError as error:
        by_hand = table_by_hand(text)
        if by_hand is None:
            raise AssignmentError("assignment.no_toml", fault=cleaned(str(error), 160)) from error
    assignment, faults = _read(by_hand.table)
    return assignment, [*by_hand.faults, *faults]


def assignment_of(table: Mapping[str, Any]) -> Assignment:
    """The assignment in the table that a file holds. Raises `AssignmentError` with every fault, each with its place."""
    return _without_fault(*_read(table))


def _without_fault(assignment: Assignment, faults: Sequence[Message]) -> Assignment:
    if faults:
        raise AssignmentError("faults", faults=faults)
    return assignment


def _read(table: Mapping[str, Any]) -> tuple[Assignment, list[Message]]:
    faults: list[Message] = []
    top = Fields(table, None, faults, known=_TOP)
    assignment = Assignment(
        title=top.text("title"),
        note=top.text("note", longest=LONGEST_NOTE),
        due=top.day("due"),
        neck_map=map_of(table["map"], faults) if "map" in table else None,
        tunes=tuple(_tune(Fields(*entry, faults, known=_TUNE)) for entry in _entries(table, "tune", faults)),
        lines=tuple(_lines(Fields(*entry, faults, known=_LINE)) for entry in _entries(table, "line", faults)),
    )
    if not assignment.title:
        top.fault("assignment.no_title")
    if not ("tune" in table or "line" in table):
        top.fault("assignment.empty")
    return assignment, faults


def _entries(table: Mapping[str, Any], name: str, faults: list[Message]) -> list[tuple[dict[str, Any], Message]]:
    """The tables under `[[name]]`, each with its place."""
    entries = table.get(name, [])
    if not isinstance(entries, list) or not all(isinstance(entry, dict) for entry in entries):
        faults.append(message("assignment.no_tables", name=name))
        return []
    if len(entries) > MAX_ENTRIES:
        faults.append(message("assignment.too_many_tables", name=name, count=len(entries), limit=MAX_ENTRIES))
        return []
    return [(entry, message(f"assignment.at_{name}", number=number)) for number, entry in enumerate(entries, start=1)]


def _tune(fields: Fields) -> AssignedTune:
    title, file_name = fields.text("title"), fields.text("file")
    if bool(title) == bool(file_name):
        fields.fault("assignment.title_or_file")
    if _NO_NAME.search(file_name) or file_name.startswith("."):
        fields.fault("assignment.no_file_name", given=file_name)
        file_name = ""
    return AssignedTune(
        title=title,
        file_name=file_name,
        bars=fields.bars("bars"),
        stages=fields.stages("stages"),
        target_bpm=fields.number("tempo", LOWEST_BPM, HIGHEST_BPM),
    )


def _lines(fields: Fields) -> AssignedLines:
    level, a_day = fields.number("level", 1, HIGHEST_LEVEL), fields.number("a_day", 1, MOST_LINES_A_DAY)
    if not fields.has("level"):
        fields.fault("assignment.no_level", highest=HIGHEST_LEVEL)
    return AssignedLines(
        level=level or 1,
        a_day=a_day or 1,
        stages=fields.stages("stages"),
        target_bpm=fields.number("tempo", LOWEST_BPM, HIGHEST_BPM),
    )
