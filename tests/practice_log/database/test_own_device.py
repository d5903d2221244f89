"""A device is one folder on one computer: whatever copies its file elsewhere, elsewhere it is another."""

import json
import shutil
import threading

import pytest

from game.practice_log.database import own_device as module
from game.practice_log.database.own_device import new_device, own_device


@pytest.fixture
def computer(monkeypatch):
    """Sit down at a computer of some name."""

    def sit_down(name):
        monkeypatch.setattr(module, "machine_hash", lambda: name)

    sit_down("larch")
    return sit_down


@pytest.mark.usefixtures("computer")
def test_a_device_keeps_its_id(tmp_path):
    made = own_device(tmp_path / "there")
    assert own_device(tmp_path / "there") == made
    assert [path.name for path in (tmp_path / "there").iterdir()] == ["device.json"]
    assert made.before == ()


@pytest.mark.usefixtures("computer")
def test_a_copied_folder_is_another_device(tmp_path):
    first = own_device(tmp_path / "one")
    shutil.copytree(tmp_path / "one", tmp_path / "two")
    second = own_device(tmp_path / "two")
    assert second.uuid != first.uuid
    assert second.uuids == (second.uuid, first.uuid)
    assert own_device(tmp_path / "two") == second
    assert own_device(tmp_path / "one") == first


def test_the_same_folder_at_another_computer_is_another_device_and_at_each_the_same_again(tmp_path, computer):
    """A home on a network."""
    at = {}
    for name in ("larch", "alder", "rowan"):
        computer(name)
        at[name] = own_device(tmp_path).uuid
    assert len(set(at.values())) == 3
    for name in ("larch", "alder", "rowan", "larch"):
        computer(name)
        assert own_device(tmp_path).uuid == at[name]
        assert set(own_device(tmp_path).uuids) == set(at.values())


@pytest.mark.usefixtures("computer")
def test_a_file_of_before_that_is_bound_to_nothing_may_be_a_copy_and_is_replaced(tmp_path):
    old = "3d6ae79a-74a1-4d82-bd77-a4536a30a2b1"
    (tmp_path / "device.json").write_text(json.dumps({"uuid": old, "name": ""}))
    device = own_device(tmp_path)
    assert str(device.uuid) != old
    assert [str(one.uuid) for one in device.before] == [old]
    assert own_device(tmp_path) == device


@pytest.mark.usefixtures("computer")
def test_a_file_that_cannot_be_read_is_laid_aside(tmp_path):
    (tmp_path / "device.json").write_text("[1, 2")
    device = own_device(tmp_path)
    assert own_device(tmp_path) == device
    assert [path.read_text() for path in tmp_path.glob("device.json.broken-*")] == ["[1, 2"]


def test_after_a_restore_it_is_a_new_device_and_none_of_before_is_found_again(tmp_path, computer):
    larch = own_device(tmp_path)
    computer("alder")
    alder = own_device(tmp_path)
    new = new_device(tmp_path)
    assert new.uuid not in {larch.uuid, alder.uuid}
    assert new.uuids == (new.uuid, alder.uuid, larch.uuid)
    assert own_device(tmp_path) == new
    computer("larch")
    assert own_device(tmp_path).uuid not in {larch.uuid, alder.uuid, new.uuid}


@pytest.mark.usefixtures("computer")
def test_programs_that_begin_at_once_agree_on_one_device_whatever_lay_there(tmp_path):
    (tmp_path / "device.json").write_text("")
    found, start = set(), threading.Barrier(8)

    def begin():
        start.wait()
        found.add(own_device(tmp_path))

    threads = [threading.Thread(target=begin) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(found) == 1
    assert len(list(tmp_path.glob("device.json.broken-*"))) == 1
    assert not (tmp_path / "identity.lock").exists()


@pytest.mark.usefixtures("computer")
def test_where_nothing_can_be_written_it_holds_for_this_run(tmp_path):
    (tmp_path / "in the way").write_text("")
    folder = tmp_path / "in the way" / "log"
    assert own_device(folder).uuid != own_device(folder).uuid
    assert new_device(folder).before == ()
