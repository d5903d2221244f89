"""The rows of one student, from their files to a small class of their own, away from the file of the class: by whoever
has a processor to spare. What is there of the student already comes along, but for single notes.
"""

import sqlite3
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

from game.errors import HomefretError
from game.message import Message
from game.practice_log.classes.class_projection import Row
from game.practice_log.classes.class_schema import KEYS, TABLES
from game.practice_log.classes.class_writing import PartsOf, image_of_practice
from game.practice_log.classes.file_owner import FileOwner
from game.practice_log.classes.student_log import student_log
from game.practice_log.database.own_player import players_with_entries
from game.practice_log.documents.decoded_documents import nothing_collected
from game.practice_log.documents.document_batch import TakenIn

NOTES = "note"
TOLD_BY_FILES = ("student", "same_player", "delivery")
FOLDED = tuple(table for table in TABLES if table not in (*TOLD_BY_FILES, NOTES))
"""The tables of what was practised, but for single notes, and before these those of who it was and of which files."""

_NONSENSE = (ValueError, TypeError, LookupError, AttributeError, ArithmeticError, RecursionError, MemoryError)


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentTask:
    """The files of a student, in the order in which they are to be read, and the rows that are `there` already, by
    table, each with the student's id. `parts_of` is a function of a module, so that it can be sent to a process.
    """

    student: UUID
    files: Sequence[tuple[Path, FileOwner]]
    there: Mapping[str, Sequence[Row]]
    parts_of: PartsOf


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentRows:
    """What `came` of each file that was read and why others were `refused`; what the student is called in them; the
    `image` of a class that holds this student alone, single notes only of takes that are new or were judged anew; and
    how many `takes` are new.
    """

    came: Mapping[Path, TakenIn]
    refused: Mapping[Path, Message]
    name: str
    image: bytes
    takes: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NoRows:
    """Files that make no sense together, and why: in a sentence, or by the name of a fault."""

    fault: Message | str


def rows_of_student(task: StudentTask) -> StudentRows | NoRows:
    """Go through the files of a student."""
    try:
        with nothing_collected(), student_log(task.student, task.files) as log:
            image, takes = b"", 0
            if len(log.refused) < len(task.files) or not task.files:
                image, takes = image_of_practice(log.connection, task.student, task.there, task.parts_of)
            name = next((player.name for player in players_with_entries(log.connection) if player.name), "")
            return StudentRows(came=log.came, refused=log.refused, name=name, image=image, takes=takes)
    except HomefretError as fault:
        return NoRows(fault=fault.message)
    except _NONSENSE as fault:
        return NoRows(fault=type(fault).__name__)


def rows_there(connection: sqlite3.Connection, student: UUID) -> dict[str, list[Row]]:
    """What there is of a student in a class, as a task wants it."""
    asked = ((table, f"SELECT * FROM {table} WHERE student = ?") for table in FOLDED)
    found = {table: connection.execute(statement, (student.bytes,)).fetchall() for table, statement in asked}
    return {table: rows for table, rows in found.items() if rows}


def take_over(connection: sqlite3.Connection, student: UUID, staged: str) -> None:
    """Bring what is in a class up to what stands of a student in an attached one, by its name: only rows that are
    others than before are written. To be called in a transaction.
    """
    who = {"student": student.bytes}
    connection.execute(_STALE_NOTES.format(staged=staged), who)
    for table in FOLDED:
        now, here = f"SELECT * FROM {staged}.{table}", f"SELECT * FROM main.{table} WHERE student = :student"
        if connection.execute(f"{here} LIMIT 1", who).fetchone() is None:
            # Of a student who is new nothing needs to be compared.
            connection.execute(f"INSERT INTO main.{table} {now}")
            continue
        keys = ", ".join(("student", *KEYS[table]))
        connection.execute(
            f"DELETE FROM main.{table} WHERE ({keys}) IN (SELECT {keys} FROM ({here} EXCEPT {now}))", who
        )
        connection.execute(f"INSERT INTO main.{table} SELECT * FROM ({now} EXCEPT {here})", who)
    connection.execute(f"INSERT INTO main.{NOTES} SELECT * FROM {staged}.{NOTES}")


_STALE_NOTES = f"""
DELETE FROM main.{NOTES} WHERE student = :student AND take IN (
    SELECT take FROM main.take WHERE student = :student
    EXCEPT SELECT now.take FROM {{staged}}.take AS now JOIN main.take AS here
        ON here.student = :student AND here.take = now.take
    WHERE here.entry_key = now.entry_key AND here.judged_key = now.judged_key
)
"""
"""Of takes that are gone, or that were judged anew."""
