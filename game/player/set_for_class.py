"""What a teacher set for a class: the assignments that lie beside the files of their students.

One is for whoever has files in the folder it lies in, or below; and where that folder is called `assignments`, as in a
shared folder, in the one it is in. So one at the top is for all, and one in a folder called by a student's id is for
them alone.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path, PurePosixPath

from game.assignments.assignment import Assignment, AssignmentError
from game.assignments.assignment_reader import ENDING, assignment_from, assignment_text
from game.assignments.map_file import holds_a_map_alone
from game.message import Message, message
from game.player.assignment_facts import digest_of, is_newer_form, plain_text
from game.player.parts_in_log import parts_never_begun
from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_folder import texts_in
from game.practice_log.classes.class_writing import SetPart
from game.practice_log.classes.never_opened import StudentOfFolder, put_never_opened, students_of_folder
from game.practice_log.transfer.shared_folder import ASSIGNMENTS
from game.text.clean_text import cleaned_name


@dataclass(frozen=True, slots=True)
class SetInFolder:
    """An assignment, known by the digest of its text, for whoever has files in a folder (a path with slashes)."""

    folder: str
    digest: str
    assignment: Assignment

    def is_for(self, student: StudentOfFolder) -> bool:
        """Whether it was set for a student. What was due before somebody's first take was set for others."""
        due = self.assignment.due
        if due is not None and student.first_day and due.isoformat() < student.first_day:
            return False
        within = f"{self.folder}/" if self.folder else ""
        named = {str(uuid) for uuid in student.ids}
        return PurePosixPath(self.folder).name in named or any(path.startswith(within) for path in student.paths)

    def was_opened(self, student: StudentOfFolder, today: int) -> bool:
        """Whether a student opened it, or an older form of it: then their log tells how far it is."""
        title = self.assignment.title.casefold()
        if any(one.digest == self.digest for one in student.opened):
            return True
        due = "" if self.assignment.due is None else self.assignment.due.isoformat()
        alike = next((one for one in reversed(student.opened) if one.title.casefold() == title), None)
        return alike is not None and is_newer_form(was_due=alike.due, due=due, day=today)


def put_set_for_class(folder: Path, file: Path, today: date) -> tuple[Message, ...]:
    """Put what lies in a folder, and what students never opened of it, into the file of their class, which was gathered
    from there. Returns a sentence for each assignment that cannot be read. Raises `LogError`.
    """
    there, faults = set_in_folder(folder)
    with open_class(file) as connection:
        students = students_of_folder(connection)
        put_never_opened(connection, {one.student: never_opened(one, there, today) for one in students})
    return faults


def set_in_folder(folder: Path) -> tuple[tuple[SetInFolder, ...], tuple[Message, ...]]:
    """The assignments in a folder, and what is wrong with those that cannot be read. Maps are passed over. Raises
    `LogError` for a folder that cannot be read.
    """
    there: list[SetInFolder] = []
    faults: list[Message] = []
    for lies_in, path in texts_in(folder, ENDING):
        if holds_a_map_alone(path):
            continue
        try:
            text = assignment_text(path)
        except AssignmentError as error:
            faults.append(error.message)
            continue
        try:
            assignment = assignment_from(text)
        except AssignmentError as error:
            faults.append(message("assignment.in_file", file=cleaned_name(path), fault=error.message))
            continue
        there.append(SetInFolder(_for_folder(lies_in), digest_of(plain_text(text)), assignment))
    return tuple(there), tuple(faults)


def never_opened(student: StudentOfFolder, there: Iterable[SetInFolder], today: date) -> tuple[SetPart, ...]:
    """The parts of what was set for a student and never opened by them. What lies there twice was set once; of several
    forms of one assignment the last one by its path counts.
    """
    left: dict[object, SetInFolder] = {}
    for one in there:
        if one.is_for(student) and not one.was_opened(student, today.toordinal()):
            left[one.assignment.title.casefold(), one.assignment.due] = one
    by_digest = {one.digest: one for one in left.values()}
    return tuple(part for one in by_digest.values() for part in parts_never_begun(one.digest, one.assignment))


def _for_folder(lies_in: str) -> str:
    """Whose folder it is for: the one above, where it lies in one of assignments alone."""
    path = PurePosixPath(lies_in)
    return path.parent.as_posix().removeprefix(".") if path.name == ASSIGNMENTS else lies_in
