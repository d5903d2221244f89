"""Whose a file is, is told before it is read, in the same way for every kind of file."""

import json
import zipfile
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.classes import file_owner
from game.practice_log.classes.file_owner import MOST_IDS, owner_by_head, owner_of
from game.practice_log.foreign.documents_of_file import documents_of_file
from tests.practice_log.classes.students import ADA, hand_in
from tests.practice_log.transfer.practised import Computer
from tests.practice_log.transfer.tables_export import write_tables
from tests.refusing import refusal


@pytest.fixture
def home(tmp_path, monkeypatch):
    """A log, its exports of both forms, and one that somebody packed anew."""
    monkeypatch.setattr(file_owner, "limited_lines", lambda path, _: documents_of_file(path))
    computer = Computer(1, player=ADA, path=tmp_path / "log.sqlite").practise(5)
    hand_in(computer, tmp_path / "now.zip")
    write_tables(computer.log, ADA, tmp_path / "before.zip", now=computer.now)
    packed = zipfile.ZipFile(tmp_path / "packed.zip", "w", zipfile.ZIP_DEFLATED)
    with zipfile.ZipFile(tmp_path / "now.zip") as good, packed:
        for name in reversed(good.namelist()):
            packed.writestr(name, good.read(name))
    return tmp_path


@pytest.mark.parametrize("name", ["log.sqlite", "now.zip", "before.zip", "packed.zip"])
def test_a_log_and_exports_of_every_kind_are_their_players(home, name):
    owner = owner_of(home / name)
    assert owner.ids == (ADA.uuid,)
    assert owner.name == "Ada"


def test_what_its_first_bytes_say_is_what_the_child_tells(home):
    first = b"".join(documents_of_file(home / "now.zip")).partition(b"\n")[0]
    assert owner_by_head(home / "now.zip", first) == owner_of(home / "now.zip")


def _export_saying(path, **said):
    with zipfile.ZipFile(path, "w") as made:
        made.writestr("contents.json", json.dumps({"format": "homefret practice export", "version": 2} | said))
    return path


def test_who_says_to_be_many_or_nobody_is_refused(home):
    many = [str(UUID(int=number)) for number in range(MOST_IDS)]
    player = {"uuid": str(ADA.uuid), "name": "Ada"}
    assert len(owner_of(_export_saying(home / "a.zip", player=player, same_players=many[1:])).ids) == MOST_IDS
    with refusal(LogError, "more than"):
        owner_of(_export_saying(home / "b.zip", player=player, same_players=many))
    with refusal(LogError, "c.zip"):
        owner_of(_export_saying(home / "c.zip", player={"uuid": "x", "name": ""}))


@pytest.mark.parametrize("packed", [zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
def test_all_exports_in_one_zip_as_a_platform_hands_them_out_are_to_be_unpacked(home, monkeypatch, packed):
    monkeypatch.setattr(file_owner, "limited_lines", None)
    with zipfile.ZipFile(home / "all.zip", "w", packed) as everybody:
        for name in ("Ada_123_file/now.ZIP", "readme.txt"):
            everybody.write(home / "now.zip", name)
    with refusal(LogError, r"all\.zip holds zip files: unpack it"):
        owner_of(home / "all.zip")


def test_what_is_none_of_ours_is_refused_without_a_child(home, monkeypatch):
    monkeypatch.setattr(file_owner, "limited_lines", None)
    for content in (b"", b"hello", b"PK\x03\x04" + bytes(100), b"\x7fELF" + b"contents.json"):
        (home / "x.zip").write_bytes(content)
        with refusal(LogError, "x.zip"):
            owner_of(home / "x.zip")
    with refusal(LogError, "away"):
        owner_of(home / "away.zip")
