"""A school with two teachers, a head and a gatherer, for the tests of its database."""

from game.practice_log.classes.class_file import open_class
from game.practice_log.classes.class_schema import insert_statement
from game.practice_log.classes.class_writing import put_practice
from game.practice_log.classes.gather_class import gather_class
from game.practice_log.school.into_school import bring_into_school
from game.practice_log.school.school_connection import school_connection
from game.practice_log.school.school_roles import GATHERER, HEAD, give_class, give_role
from game.practice_log.school.school_schema import set_up_school
from tests.practice_log.classes.students import ADA, BEN, CEM, hand_in, student
from tests.sampling import runs_all

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
