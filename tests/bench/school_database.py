"""A school of five thousand in PostgreSQL: `python -m tests.bench.school_database [--students N] [--days N]`.

A server of its own, which waits for its files as on a school's computer; they lie in memory where there is some. Every
student has practised every other day for a year, in days that the database makes itself; one more is simulated, with
47,000 notes. Prints seconds by the clock as whoever asks has them: a head all classes (target 2 s), a teacher their own
class, a gatherer one student; and what is refused. Beside them a plain count, by which machines can be compared.
"""

import argparse
import sqlite3
import tempfile
import time
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path
from uuid import UUID

from psycopg.errors import InsufficientPrivilege

from game.errors import LogError
from game.practice_log.classes.class_queries import class_week
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.database.identity import Identity
from game.practice_log.school.head_sums import head_sums
from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import AskedSchool, school_connection
from game.practice_log.school.school_roles import GATHERER, HEAD, give_class, give_role
from game.practice_log.school.school_schema import set_up_school
from game.text.catalogue import tell
from tests.bench.school import export
from tests.school_server import school_server_running

TODAY = date(2027, 9, 20)
PUPILS = 40
HEAD_TARGET_S = 2.0
_OF_NUMBER = "CAST(LPAD(TO_HEX(n), 32, '0') AS UUID)"
_STUDENTS = f"""
INSERT INTO student (student, name, named) SELECT {_OF_NUMBER}, CAST(n AS TEXT), '' FROM generate_series(1, %s) AS n
"""
_MEMBERS = f"""
INSERT INTO class_student SELECT {_OF_NUMBER}, 'class ' || (n - 1) / {PUPILS}, 'bench' FROM generate_series(1, %s) AS n
"""
_DAYS = f"""
INSERT INTO day SELECT {_OF_NUMBER}, CAST(DATE '{TODAY}' - 2 * back AS TEXT), 20 + n %% 7, 12, 200 + n %% 40, 180, 50,
    60.0, 90.0, 100, 90
FROM generate_series(1, %s) AS n, generate_series(0, %s) AS back
"""
_SUMS = """
INSERT INTO day_sums SELECT student, day, minutes, takes, read, clean, read_timed, clean_timed FROM day
"""


def clocked(what: str, work: Callable[[], object], *, times: int = 1) -> float:
    """Print how long a piece of work takes, the median of so many times."""
    spent = []
    for _ in range(times):
        began = time.perf_counter()
        work()
        spent.append(time.perf_counter() - began)
    taken = sorted(spent)[times // 2]
    print(f"{what:60} {taken:7.2f} s", flush=True)
    return taken


def count() -> int:
    """The reference."""
    return sum(number * number for number in range(5_000_000))


def refused(connection: object, statement: str) -> None:
    """Print what the database says to a teacher."""
    try:
        connection.execute(statement)
    except InsufficientPrivilege as error:
        print(f"{statement:60} {type(error).__name__}")
    else:
        print(f"{statement:60} NOT REFUSED")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--students", type=int, default=5_000)
    parser.add_argument("--days", type=int, default=180)
    args = parser.parse_args()
    clocked("a plain count", count, times=3)
    with tempfile.TemporaryDirectory() as place, school_server_running(quick=False) as server:
        school = server.made()
        who = {person: server.address(school, person) for person in ("admin", "anna", "hugo", "gina")}
        with school_connection(who["admin"]) as admin:
            set_up_school(admin)
            for person, role in (("hugo", HEAD), ("gina", GATHERER)):
                give_role(admin, person, role)
            give_class(admin, "anna", "class 0")
            for statement, values in ((_STUDENTS, 1), (_MEMBERS, 1), (_DAYS, 2)):
                admin.execute(statement, (args.students, args.days)[:values])
            admin.execute(_SUMS)
            admin.execute("ANALYZE")
            print(f"{args.students:,} students, {admin.execute('SELECT COUNT(*) FROM day_sums').fetchone()[0]:,} days")
        folder, file = Path(place) / "class 0", Path(place) / "class.sqlite"
        folder.mkdir()
        notes = export(folder, 1, 297, Identity(uuid=UUID(int=10**9), name="Ada"))
        gather_class(folder, file)
        clocked(
            f"a gatherer brings a student of {notes:,} notes", lambda: bring_into_school(file, who["gina"], "class 0")
        )
        clocked("and again, nothing changed", lambda: bring_into_school(file, who["gina"], "class 0"))

        def of_head() -> None:
            with school_connection(who["hugo"]) as hugo:
                assert len(head_sums(AskedSchool(hugo), TODAY)) >= args.students // PUPILS

        taken = clocked(f"a head asks for all classes (target {HEAD_TARGET_S:.0f} s)", of_head, times=5)

        def of_teacher() -> None:
            with school_connection(who["anna"]) as anna:
                assert len(class_week(AskedSchool(anna), TODAY)) == PUPILS + 1

        clocked("a teacher asks for a class of forty", of_teacher, times=5)
        with school_connection(who["anna"]) as anna:
            other = f"SELECT * FROM student WHERE student = '{UUID(int=PUPILS + 1)}'"
            print(f"{other:60} {len(anna.execute(other).fetchall())} rows")
            for statement in ("DELETE FROM take", "SELECT * FROM day_sums", f"SET ROLE {GATHERER}", "TRUNCATE note"):
                refused(anna, statement)
        try:
            with school_connection(who["gina"]) as gina:
                set_up_school(gina)
        except LogError as error:
            print(tell(error.message))
        with closing(sqlite3.connect(file)) as connection:
            stored = connection.execute("SELECT COUNT(*) FROM note").fetchone()[0]
        print(f"{file.stat().st_size / stored:.0f} bytes a note in the file; {by_note(who['admin'])} in PostgreSQL")
        print("reached" if taken <= HEAD_TARGET_S else "not reached")


def by_note(address: str) -> str:
    """Bytes for each note that is there, indexes counted, by PostgreSQL's own word."""
    with school_connection(address) as admin:
        size, notes = admin.execute(
            "SELECT (SELECT SUM(pg_total_relation_size(oid)) FROM pg_class WHERE relname LIKE 'note\\_%' "
            "AND relkind = 'r'), (SELECT COUNT(*) FROM note)"
        ).fetchone()
        return f"{size / notes:.0f} (notes alone)"


if __name__ == "__main__":
    main()
