"""For the tests of a school's database."""

import shutil

import pytest

from tests.practice_log.school.schools import brought, staffed, two_classes


@pytest.fixture(scope="session")
def gathered_once(tmp_path_factory):
    """Two gathered classes, with their folders."""
    folder = tmp_path_factory.mktemp("classes")
    two_classes(folder)
    return folder


@pytest.fixture
def files(gathered_once, tmp_path):
    """The files of two classes, each beside its folder; a copy of the test's own."""
    shutil.copytree(gathered_once, tmp_path, dirs_exist_ok=True)
    return {name: tmp_path / f"{name}.sqlite" for name in ("3a", "3b")}


@pytest.fixture
def staff(school_server, school):
    """A server, and a school on it where a head, a gatherer and two teachers have their roles; for this test alone."""
    staffed(school_server, school)
    return school_server, school


@pytest.fixture(scope="session")
def full_school(school_server, school_set_up, gathered_once):
    """A school into which two classes were brought: for tests that change nothing."""
    school = school_server.made(template=school_set_up)
    staffed(school_server, school)
    brought(school_server, school, {name: gathered_once / f"{name}.sqlite" for name in ("3a", "3b")})
    return school_server, school
