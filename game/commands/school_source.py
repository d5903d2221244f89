"""A school's database as a class that can be asked, and as the place into which a folder is gathered."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from game.errors import LogError
from game.message import Message, message
from game.paths import user_data
from game.practice_log.classes.class_queries import AskedClass
from game.practice_log.school.into_school import BroughtIntoSchool, bring_into_school, source_of
from game.practice_log.school.school_address import has_password
from game.practice_log.school.school_connection import AskedSchool, school_connection
from game.practice_log.school.school_erasure import erase_marked, marks_of
from game.practice_log.school.school_keeping import keep_in_school, kept_in_school
from game.practice_log.school.school_roles import is_head
from game.practice_log.school.school_schema import refuse_other_version


@contextmanager
def asked_school(address: str) -> Iterator[AskedClass]:
    """The students whom the database shows to whoever logs in. Raises `LogError`, also for a head, who sees sums."""
    with school_connection(address) as connection:
        refuse_other_version(connection)
        if is_head(connection):
            raise LogError("school.head_sees_sums")
        yield AskedSchool(connection)


def school_keeps(address: str, months: int | None = None) -> int | None:
    """For how many months a school keeps what it holds, None for ever; from now on so many, where that is said, 0 for
    ever. Raises `LogError`, also for somebody who does not gather.
    """
    with school_connection(address) as connection:
        refuse_other_version(connection)
        if months is not None:
            keep_in_school(connection, months or None)
        return kept_in_school(connection)


def brought_into_school(
    folder: Path, gathered: Path, address: str, class_name: str, today: date | None = None
) -> BroughtIntoSchool:
    """A folder's gathered file brought into a school, as the class of this name or the folder's own."""
    return bring_into_school(
        gathered,
        address,
        class_name or folder.resolve().name,
        marks=marks_of(folder, user_data()),
        today=today,
    )


def erased_by_mark(folder: Path, gathered: Path, address: str) -> int:
    """How many students are erased from a school by marks in a folder, also where it holds no export any more; by which
    file it was `gathered` says who came from it. Raises `LogError`.
    """
    with school_connection(address) as connection:
        refuse_other_version(connection)
        return erase_marked(connection, marks_of(folder, user_data()), source_of(gathered)).students


def seen_password(address: str) -> tuple[Message, ...]:
    """What is to be said of an address with a password in it."""
    return (message("school.password_seen"),) if has_password(address) else ()
