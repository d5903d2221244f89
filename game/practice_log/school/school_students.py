"""Who is in a school's database, with all their ids and names, before one is erased."""

from game.practice_log.classes.students_in_folder import StudentFiles, joined
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_schema import refuse_other_version

_STUDENTS = """
SELECT student.student, student.name, student.named, same_player.player
FROM student LEFT JOIN same_player ON same_player.student = student.student
ORDER BY student.student, same_player.player
"""


def school_students(address: str) -> list[StudentFiles]:
    """The students whom whoever asks may see. Raises `LogError`, in one sentence without the password."""
    with school_connection(address) as connection:
        refuse_other_version(connection)
        rows = connection.execute(_STUDENTS).fetchall()
    return joined(
        StudentFiles(frozenset({student, player} - {None}), frozenset({name, named} - {""}))
        for student, name, named, player in rows
    )
