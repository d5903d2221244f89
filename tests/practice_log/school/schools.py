"""A school with two teachers, a head and a gatherer, for the tests of its database."""

import sqlite3
from contextlib import closing
from uuid import UUID

from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_schema import TABLES, insert_statement
from game.practice_log.classes.class_writing import put_practice
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import AskedSchool, school_connection
from game.practice_log.school.school_roles import GATHERER, HEAD, give_class, give_role
from game.practice_log.school.school_schema import set_up_school
from tests.practice_log.classes.students import ADA, BEN, CEM, hand_in, student
from tests.sampling import runs_all

NUMBERS = ("take", "passage", "bars", "item")
PEOPLE = {"gina": GATHERER, "hugo": HEAD}
CLASS_OF = {"anna": "3a", "bob": "3b"}


def staffed(server, school):
    """Gina gathers, Hugo is the head, Anna teaches 3a and Bob 3b."""
    with school_connection(server.address(school)) as admin:
        # A copy of a database has not its rights.
        set_up_school(admin)
        for person, role in PEOPLE.items():
            give_role(admin, person, role)
        for teacher, class_name in CLASS_OF.items():
            give_class(admin, teacher, class_name)


def names_in_school(address, players):
    """The names of those of these players who are in the school."""
    with school_connection(address) as connection:
        rows = connection.execute("SELECT name FROM student WHERE student = ANY (%s) ORDER BY 1", (list(players),))
        return tuple(name for (name,) in rows.fetchall())


def gathered(folder, path):
    """The gathered file of a class."""
    gather_class(folder, path)
    return path


def two_classes(folder):
    """Ada and Cem are in 3a, Ben and Cem in 3b: the gathered files of both."""
    ada, ben, cem = student(ADA, 1, steps=5), student(BEN, 2, steps=4), student(CEM, 3, steps=3)
    files = {}
    for class_name, members in (("3a", (ada, cem)), ("3b", (ben, cem))):
        files[class_name] = folder / f"{class_name}.sqlite"
        if runs_all():
            for one in members:
                hand_in(one, folder / class_name / f"{one.player.name}.zip")
            gathered(folder / class_name, files[class_name])
        else:
            _put(members, files[class_name])
    return files


def _put(members, path):
    """What gathering comes to, without the processes that read exports."""
    with open_class(path) as file:
        for one in members:
            who = one.player.uuid.bytes
            file.execute(insert_statement("student"), (who, one.player.name, ""))
            file.execute(insert_statement("same_player"), (who, who))
            put_practice(file, one.player.uuid, one.log)


def brought(server, school, files, *, by="gina"):
    """Each file brought as the class of its name."""
    return {name: bring_into_school(path, server.address(school, by), name) for name, path in files.items()}


def plain(value):
    return UUID(bytes=value) if isinstance(value, bytes) else value


def held(connection, student_id, *, without=()):
    """All of a student but the numbers that only tell rows apart: a note by its take's key and by what was written."""
    told = {}
    for table in TABLES.keys() - {"note", *without}:
        names = [name for name, _ in TABLES[table] if name not in NUMBERS]
        rows = connection.execute(
            f"SELECT {', '.join(names)} FROM {table} WHERE student = :student", {"student": student_id}
        )
        told[table] = sorted(repr(tuple(map(plain, row))) for row in rows.fetchall())
    of_note = ", ".join(f"note.{name}" for name, _ in TABLES["note"] if name not in NUMBERS)
    rows = connection.execute(
        f"SELECT take.entry_key, {of_note}, item.written, item.sounding, item.string, item.fret FROM note "
        "JOIN take ON take.student = note.student AND take.take = note.take "
        "JOIN item ON item.student = note.student AND item.item = note.item WHERE note.student = :student",
        {"student": student_id},
    )
    told["note"] = sorted(map(repr, rows.fetchall()))
    return told


def in_file(path, player, **what):
    with closing(sqlite3.connect(path)) as file:
        return held(file, player.uuid.bytes, **what)


def in_school(staff, player, **what):
    server, school = staff
    with school_connection(server.address(school)) as connection:
        return held(AskedSchool(connection), player.uuid, **what)
