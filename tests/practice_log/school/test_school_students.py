"""Students of a school are told by all their ids and names, to whoever may see them."""

from game.practice_log.school.school_students import school_students
from tests.practice_log.classes.students import ADA, BEN, CEM


def test_all_are_told_to_who_gathers_and_to_a_teacher_their_own(full_school):
    server, school = full_school
    told = {one.ids: one.names for one in school_students(server.address(school, "gina"))}
    assert told == {frozenset({one.uuid}): {one.name} for one in (ADA, BEN, CEM)}
    assert {name for one in school_students(server.address(school, "anna")) for name in one.names} == {"Ada", "Cem"}
