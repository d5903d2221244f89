"""Which folder a log is shared through, and what lies where in it."""

import os
import stat
from pathlib import Path
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.transfer.shared_folder import (
    SHARED_FILE,
    closed_name,
    device_folder,
    devices_there,
    is_shared_file,
    make_folders,
    others_name,
    players_there,
    put_in_place,
    remember_shared,
    shared_files,
    shared_folder,
)
from tests.refusing import refusal

ADA, LAPTOP, DESK = (UUID(int=number) for number in (1, 2, 3))


@pytest.fixture
def beside(tmp_path):
    """Where a log lies."""
    folder = tmp_path / "data"
    folder.mkdir()
    return folder


@pytest.fixture
def cloud(tmp_path):
    folder = tmp_path / "cloud"
    folder.mkdir()
    return folder


def test_a_log_is_shared_through_the_folder_that_was_named_until_that_is_taken_back(beside, cloud):
    assert shared_folder(beside) is None
    remember_shared(beside, cloud)
    assert shared_folder(beside) == cloud
    remember_shared(beside, None)
    assert shared_folder(beside) is None
    remember_shared(beside, None)


def test_a_folder_is_remembered_wherever_the_game_is_started_next(beside, cloud, monkeypatch):
    monkeypatch.chdir(cloud.parent)
    remember_shared(beside, Path("cloud"))
    assert shared_folder(beside) == cloud


def test_what_is_no_folder_is_refused_and_nothing_remembered(beside, cloud):
    (cloud / "letter.txt").write_text("hello")
    for wrong in (cloud / "gone", cloud / "letter.txt"):
        with refusal(LogError, "no folder that can be reached"):
            remember_shared(beside, wrong)
    assert shared_folder(beside) is None


def test_the_log_itself_is_never_synced(beside):
    (beside / "inside").mkdir()
    for wrong in (beside, beside / "inside", beside / "inside" / ".."):
        with refusal(LogError, "where the practice log itself lies"):
            remember_shared(beside, wrong)


@pytest.mark.parametrize(
    "content", [b"", b"[]", b'{"folder": 7}', b'{"folder": ""}', b"{" * 20_000], ids=lambda it: it[:9].decode()
)
def test_where_nobody_can_read_which_folder_it_is_nothing_is_shared(beside, content):
    (beside / SHARED_FILE).write_bytes(content)
    assert shared_folder(beside) is None


@pytest.mark.parametrize(
    "name",
    [
        "open (conflicted copy 2026-11-03).zip",
        "open.zip.tmp",
        ".open.zip.unfinished",
        "2026-11-0123456789abcdef (1).zip",
        "2026-11-0123.zip",
        "november-0123456789abcdef.zip",
        "of-somebody-0123456789abcdef.zip",
        "written.json",
        "practice.sqlite",
    ],
)
def test_what_a_sync_leaves_beside_our_files_is_never_opened(name):
    assert not is_shared_file(Path(name))


def test_our_own_files_are_known_by_their_names():
    digest = "0123456789abcdef" * 4
    for name in ("open.zip", closed_name("2026-11", digest), others_name(DESK, digest)):
        assert is_shared_file(Path(name))


def test_files_of_all_devices_are_found_in_an_order_that_is_always_the_same(cloud):
    for device in (DESK, LAPTOP):
        make_folders(device_folder(cloud, ADA, device))
        (device_folder(cloud, ADA, device) / "open.zip").touch()
        (device_folder(cloud, ADA, device) / "open 2.zip").touch()
    (cloud / "homefret" / "notes").mkdir()
    assert players_there(cloud) == (ADA,)
    assert devices_there(cloud, ADA) == (LAPTOP, DESK)
    assert shared_files(cloud, [ADA]) == tuple(device_folder(cloud, ADA, one) / "open.zip" for one in (LAPTOP, DESK))
    assert shared_files(cloud, [DESK]) == players_there(cloud.parent / "gone") == ()


@pytest.mark.skipif(os.name == "nt", reason="permissions of Windows are others")
def test_files_there_are_for_whoever_the_folder_is_for(cloud):
    cloud.chmod(0o770)
    folder = device_folder(cloud, ADA, LAPTOP)
    make_folders(folder)
    draft = folder / ".open.zip.unfinished"
    draft.touch(mode=0o600)
    put_in_place(draft, folder / "open.zip")
    assert stat.S_IMODE(folder.stat().st_mode) == 0o770
    assert stat.S_IMODE((folder / "open.zip").stat().st_mode) == 0o660
