"""A school's database as a class that can be asked, and as the place into which a folder is gathered."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from game.errors import LogError
from game.message import Message, message
from game.paths import user_data
from game.practice_log.classes.class_queries import AskedClass
from game.practice_log.school.into_school import BroughtIntoSchool, bring_into_school, marks_in
from game.practice_log.school.school_address import has_password
from game.practice_log.school.school_connection import AskedSchool, school_connection
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


def brought_into_school(folder: Path, gathered: Path, address: str, class_name: str) -> BroughtIntoSchool:
    """A folder's gathered file brought into a school, as the class of this name or the folder's own."""
    return bring_into_school(
        gathered,
        address,
        class_name or folder.resolve().name,
        marks=marks_in(folder) | marks_in(user_data(), deep=False),
    )


def seen_password(address: str) -> tuple[Message, ...]:
    """What is to be said of an address with a password in it."""
    return (message("school.password_seen"),) if has_password(address) else ()
