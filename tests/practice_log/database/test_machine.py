"""A computer is told from others by the id that its system gives it, which is never written down as it is."""

import platform
import subprocess
import sys
import uuid
from pathlib import Path
from types import SimpleNamespace

import pytest

from game.practice_log.database import machine
from game.practice_log.database.machine import folder_hash, machine_hash, machine_id

ID = "08d3e1b2f4a5468797a8b9c0d1e2f304"


@pytest.fixture
def linux(tmp_path, monkeypatch):
    """The places of machine-id(5), empty."""
    places = (tmp_path / "etc", tmp_path / "dbus")
    monkeypatch.setattr(machine, "_LINUX", places)
    return places


def test_on_linux_it_is_that_of_machine_id(linux):
    linux[1].write_text(f"{ID}\n")
    assert machine_id("linux") == ID
    linux[0].write_text("1" * 32)
    assert machine_id("linux") == "1" * 32


def test_on_windows_it_is_the_guid_of_the_registry(monkeypatch):
    """Winreg as it is documented by Python: a key is opened by a root, a path, 0 and an access, and closed after."""

    class Key:
        def __enter__(self):
            return self

        def __exit__(self, *_):
            opened.append("closed")

    def open_key(root, path, reserved, access):
        opened.append((root, path, reserved, access))
        return Key()

    opened = []
    registry = SimpleNamespace(
        KEY_READ=0x20019,
        KEY_WOW64_64KEY=0x100,
        HKEY_LOCAL_MACHINE="machine",
        OpenKey=open_key,
        QueryValueEx=lambda _, name: (ID, 1) if name == "MachineGuid" else None,
    )
    monkeypatch.setitem(sys.modules, "winreg", registry)
    assert machine_id("win32") == ID
    assert opened == [("machine", r"SOFTWARE\Microsoft\Cryptography", 0, 0x20119), "closed"]


def test_on_a_mac_it_is_that_of_the_platform(monkeypatch):
    """A line as ioreg(8) prints it."""
    told = '+-o Root\n    "IOPlatformSerialNumber" = "C0"\n    "IOPlatformUUID" = "564D1F0C-8B8A"\n'
    monkeypatch.setattr(subprocess, "run", lambda *_, **__: SimpleNamespace(stdout=told))
    assert machine_id("darwin") == "564D1F0C-8B8A"


@pytest.mark.parametrize("given", ["", "uninitialized\n", "ä"])
@pytest.mark.usefixtures("linux")
def test_where_the_system_gives_none_it_is_the_name_and_the_address_of_the_network_card(linux, given, monkeypatch):
    linux[0].write_text(given, encoding="utf-8")
    monkeypatch.setattr(platform, "node", lambda: "larch")
    monkeypatch.setattr(uuid, "getnode", lambda: 0x0C0FFEE00001)
    assert machine_id("linux") == machine_id("beos") == "larch 0c0ffee00001"


def test_an_address_that_is_made_up_at_each_start_says_nothing(monkeypatch):
    monkeypatch.setattr(platform, "node", lambda: "larch")
    monkeypatch.setattr(uuid, "getnode", lambda: 0x010000000000 | 5)
    assert machine_id("beos") == "larch"


def test_what_is_written_down_is_the_same_each_time_and_not_the_id(linux, monkeypatch):
    monkeypatch.setattr(sys, "platform", "linux")
    linux[0].write_text(ID)
    here = machine_hash()
    assert here == machine_hash()
    assert ID not in here
    assert len(here) == 32
    linux[0].write_text(ID[::-1])
    assert machine_hash() != here


def test_a_folder_is_known_by_where_it_really_lies(tmp_path):
    (tmp_path / "log").mkdir()
    (tmp_path / "link").symlink_to(tmp_path / "log")
    assert folder_hash(tmp_path / "link") == folder_hash(tmp_path / "log") != folder_hash(tmp_path / "other")
    assert Path("log").name not in folder_hash(tmp_path / "log")
