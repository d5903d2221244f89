"""A player's log as one file for the teacher."""

import json
import sqlite3
import zipfile
from contextlib import closing
from datetime import UTC, date, datetime, timedelta, timezone

import msgspec
import pytest

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.own_player import players_with_entries
from game.practice_log.foreign.read_export import read_export
from game.practice_log.queries.figures import figures_of
from game.practice_log.rows.entry_rows import About
from game.practice_log.transfer.contents import ToldName
from game.practice_log.transfer.export import Exported, planned_export, write_export, write_planned
from game.practice_log.transfer.gather import gather
from game.practice_log.transfer.log_fingerprint import fingerprint
from tests.practice_log.logged_takes import PLAYER
from tests.practice_log.transfer.practised import Computer, changed, split, take_in
from tests.refusing import refusal
from tests.report.month import write_month

NOW = datetime(2026, 6, 1, 12, tzinfo=timezone(timedelta(hours=2)))


@pytest.fixture(scope="module")
def log(tmp_path_factory):
    path = tmp_path_factory.mktemp("month") / "log.sqlite"
    write_month(path)
    with closing(sqlite3.connect(path)) as connection, connection:
        yield connection


def test_its_first_member_can_be_read_in_a_text_editor_and_says_what_the_file_holds(log, tmp_path):
    contents = write_export(log, PLAYER, tmp_path / "a.zip", now=NOW)
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        first = archive.infolist()[0]
        told = json.loads(archive.read(first))
        lines = archive.read(first).decode().splitlines()
    assert (first.filename, first.compress_type) == ("contents.json", zipfile.ZIP_STORED)
    assert lines[:3] == ["{", '  "format": "homefret practice export",', '  "version": 2,']
    assert told == msgspec.to_builtins(contents)


def test_it_is_written_without_touching_the_log(log, tmp_path):
    before = log.total_changes
    write_export(log, PLAYER, tmp_path / "a.zip", now=NOW)
    assert log.total_changes == before


def test_each_entry_is_a_line(log, tmp_path):
    write_export(log, PLAYER, tmp_path / "a.zip", now=NOW)
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        assert archive.namelist() == ["contents.json", "entries.jsonl"]
        kinds = [json.loads(line)["kind"] for line in archive.read("entries.jsonl").splitlines()]
    assert (kinds.count("take"), kinds.count("judgement"), kinds.count("asked")) == (45, 45, 3)


def test_the_same_entries_at_the_same_time_are_the_same_bytes(log, tmp_path):
    for name in ("a.zip", "b.zip"):
        write_export(log, PLAYER, tmp_path / name, now=NOW)
    assert (tmp_path / "a.zip").read_bytes() == (tmp_path / "b.zip").read_bytes()


def test_nothing_of_another_player_goes_along(tmp_path):
    other = Identity(uuid=PLAYER.uuid.__class__(int=99), name="Ben")
    write_month(tmp_path / "log.sqlite")
    write_month(tmp_path / "log.sqlite", player=other, title="of Ben")
    with closing(sqlite3.connect(tmp_path / "log.sqlite")) as both, both:
        write_export(both, PLAYER, tmp_path / "a.zip", now=NOW.astimezone(UTC))
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        assert b"Ben" not in b"".join(archive.read(name) for name in archive.namelist())
        assert archive.read("entries.jsonl").count(b'"kind":"take"') == 45


def test_since_a_day_only_what_was_practised_from_then_on_goes_along(log, tmp_path):
    what = Exported(since=date(2026, 12, 20))
    contents = write_export(log, PLAYER, tmp_path / "a.zip", now=NOW, what=what)
    assert (contents.days.first, contents.days.last, contents.since) == ("2026-12-21", "2026-12-23", "2026-12-20")
    assert contents.rows["take"] == contents.rows["judgement"] == 6
    with refusal(LogError, "nothing to export since that day"):
        write_export(log, PLAYER, tmp_path / "b.zip", now=NOW, what=Exported(since=date(2026, 12, 24)))


def test_without_notes_the_verdicts_go_along_and_it_is_said(log, tmp_path):
    contents = write_export(log, PLAYER, tmp_path / "a.zip", now=NOW, what=Exported(with_notes=False))
    assert contents.rows["verdict"] > 0
    assert {contents.rows[table] for table in ("played", "revised", "help", "name_given", "answer")} == {0}
    assert not contents.with_notes
    with zipfile.ZipFile(tmp_path / "a.zip") as archive:
        assert b'"played"' not in archive.read("entries.jsonl")


def test_who_never_played_has_nothing_to_export(log, tmp_path):
    with refusal(LogError, "nothing to export"):
        write_export(log, Identity(uuid=PLAYER.uuid.__class__(int=99)), tmp_path / "a.zip", now=NOW)


def test_a_folder_that_is_not_there_is_told_and_no_half_file_left(log, tmp_path):
    with refusal(LogError, "name another"):
        write_export(log, PLAYER, tmp_path / "gone" / "a.zip", now=NOW)
    assert list(tmp_path.iterdir()) == []


@pytest.fixture
def named():
    """Somebody whose name stands in all places where it may: theirs, their signature, their computer's."""
    computer = Computer(1, player=Identity(uuid=PLAYER.uuid, name="Zora Quist"))
    computer.device = Identity(uuid=computer.device.uuid, name="Zora's laptop")
    computer.practise(12)
    computer.say(About.PLAYER_NAME, name="Zora Quist")
    computer.say(About.SIGNATURE, typed="Z. Quist")
    return computer


def all_in(path):
    with zipfile.ZipFile(path) as archive:
        return b"".join(archive.read(name) for name in archive.namelist())


@pytest.mark.parametrize(("told_name", "name"), [(ToldName.INITIALS, "Z. Q."), (ToldName.NONE, "")])
def test_without_the_name_nothing_in_the_file_tells_it(named, tmp_path, told_name, name):
    what = Exported(told_name=told_name)
    contents = write_export(named.log, named.player, tmp_path / "a.zip", now=NOW, what=what)
    held = all_in(tmp_path / "a.zip")
    assert not [told for told in (b"Zora", b"Quist", b"laptop", b"pickup") if told in held]
    assert (contents.player.name, contents.told_name) == (name, told_name.value)
    assert str(named.player.uuid).encode() in held
    write_export(named.log, named.player, tmp_path / "b.zip", now=NOW)
    assert all(told in all_in(tmp_path / "b.zip") for told in (b"Zora Quist", b"Zora's laptop", b"pickup"))


@pytest.mark.parametrize("first", ["full", "spare"])
def test_a_spare_file_and_a_full_one_are_one_in_either_order(named, tmp_path, first):
    spare = Exported(told_name=ToldName.NONE, with_notes=False)
    write_export(named.log, named.player, tmp_path / "spare.zip", now=NOW, what=spare)
    write_export(named.log, named.player, tmp_path / "full.zip", now=NOW)
    files = [tmp_path / "full.zip", tmp_path / "spare.zip"]
    for path in files if first == "full" else reversed(files):
        said = gather(tmp_path / "home" / "practice.sqlite", [path], now=NOW)
        assert not said.faults
    with closing(sqlite3.connect(tmp_path / "home" / "practice.sqlite")) as home, home:
        assert fingerprint(home) == fingerprint(named.log)
        assert [player.name for player in players_with_entries(home)] == ["Zora Quist"]
    home.close()


def test_a_file_without_name_and_notes_is_read_as_any_other(named, tmp_path):
    spare = Exported(told_name=ToldName.NONE, with_notes=False)
    write_export(named.log, named.player, tmp_path / "spare.zip", now=NOW, what=spare)
    connection, contents = read_export(tmp_path / "spare.zip")
    with closing(connection), figures_of(connection, contents.player.uuid) as figures:
        spare_days = figures.days()
    with figures_of(named.log, named.player.uuid) as figures:
        assert spare_days == figures.days() != ()


@pytest.mark.parametrize("what", [Exported(with_notes=False), Exported(told_name=ToldName.NONE)])
def test_what_a_newer_program_wrote_goes_along_only_whole(tmp_path, what):
    computer = Computer(1).practise(6)
    newer = changed(split(computer)["take"][0], form=99, at=7)
    take_in(computer.log, newer)
    write_export(computer.log, computer.player, tmp_path / "a.zip", now=NOW, what=what)
    assert b'"form": 99' not in all_in(tmp_path / "a.zip")
    write_export(computer.log, computer.player, tmp_path / "b.zip", now=NOW)
    assert b'"form": 99' in all_in(tmp_path / "b.zip")


def test_what_is_planned_is_what_is_written_and_nothing_is_written_before(named, tmp_path):
    plan = planned_export(named.log, named.player, tmp_path / "a.zip", now=NOW)
    assert list(tmp_path.iterdir()) == []
    assert not plan.has_assignments
    named.say(About.ASSIGNMENT, text="bars 1 to 4", digest="0", title="First week", due="")
    assert planned_export(named.log, named.player, tmp_path / "a.zip", now=NOW).has_assignments
    assert write_planned(named.log, plan, tmp_path / "a.zip") == plan.contents
