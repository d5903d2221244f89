"""The files of a log are their owner's alone, but in a folder that is for several people.

Permissions as in POSIX, sys/stat.h: the last three digits are those of the owner, of the group, and of all others.
"""

import os
import stat
import sys

import pytest

from game.practice_log.database.permissions import make_private, share_as_folder, share_where_meant

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows knows no such permissions")


def mode_of(path):
    return stat.S_IMODE(path.stat().st_mode)


def placed(tmp_path, folder_mode):
    folder = tmp_path / "folder"
    folder.mkdir()
    folder.chmod(folder_mode)
    make_private(folder / "log")
    return folder / "log"


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077])
def test_a_new_file_is_its_owners_alone_whatever_they_usually_do(tmp_path, umask):
    before = os.umask(umask)
    try:
        make_private(tmp_path / "log")
    finally:
        os.umask(before)
    assert mode_of(tmp_path / "log") == 0o600


def test_a_file_that_is_there_keeps_what_is_in_it(tmp_path):
    (tmp_path / "log").write_text("takes")
    make_private(tmp_path / "log")
    assert (tmp_path / "log").read_text() == "takes"


def test_where_no_file_can_be_made_nothing_happens(tmp_path):
    make_private(tmp_path / "no folder" / "log")
    share_as_folder(tmp_path / "no folder" / "log")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("folder_mode", "mode"), [(0o700, 0o600), (0o750, 0o640), (0o2770, 0o660), (0o777, 0o666)])
def test_a_file_is_for_whoever_its_folder_is_for(tmp_path, folder_mode, mode):
    path = placed(tmp_path, folder_mode)
    share_as_folder(path)
    assert mode_of(path) == mode


@pytest.mark.parametrize(
    ("folder_mode", "mode"),
    [(0o700, 0o600), (0o755, 0o600), (0o2770, 0o660), (0o777, 0o666), (0o1777, 0o600)],
    ids=["own", "that others may look into", "a class's", "everybody's", "the system's for passing files"],
)
def test_a_file_that_was_asked_for_is_shared_only_where_others_write_too(tmp_path, folder_mode, mode):
    path = placed(tmp_path, folder_mode)
    share_where_meant(path)
    assert mode_of(path) == mode
