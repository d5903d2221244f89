"""A log into which two played is the other's alone afterwards, and whole."""

import shutil
import sqlite3
from contextlib import closing

import pytest

from game.errors import LogError
from game.practice_log.foreign.documents_of_file import documents_of_file
from game.practice_log.transfer import log_without
from game.practice_log.transfer.log_without import journals_of, write_log_without
from tests.practice_log.classes.students import ADA, BEN, NOW
from tests.practice_log.classes.two_in_a_log import two_in_a_log
from tests.practice_log.transfer.practised import lines_of
from tests.refusing import refusal


@pytest.fixture(autouse=True)
def _without_a_child(monkeypatch):
    monkeypatch.setattr(log_without, "limited_lines", lambda path, _: documents_of_file(path))


@pytest.fixture(scope="module")
def both(tmp_path_factory):
    return two_in_a_log(tmp_path_factory.mktemp("both") / "both.sqlite", ADA, BEN, steps=12)


@pytest.fixture
def log(both, tmp_path):
    return shutil.copy(both, tmp_path / "both.sqlite")


def lines_by_player(path):
    with closing(sqlite3.connect(path)) as connection:
        lines = lines_of(connection).splitlines()
    return {one: sorted(line for line in lines if str(one.uuid).encode() in line) for one in (ADA, BEN)}


def test_all_of_one_is_gone_and_all_of_the_other_is_as_it_was(log):
    before = lines_by_player(log)
    assert all(before.values())
    write_log_without(log, {ADA.uuid}, now=NOW)
    assert lines_by_player(log) == {ADA: [], BEN: before[BEN]}
    assert b"Ada" not in log.read_bytes()
    assert str(ADA.uuid).encode() not in log.read_bytes()
    assert list(log.parent.iterdir()) == [log]


def test_what_sqlite_left_beside_the_old_one_goes_too(log):
    _, shared_memory, _ = journals_of(log)
    shared_memory.write_bytes(b"Ada")
    write_log_without(log, {ADA.uuid}, now=NOW)
    assert list(log.parent.iterdir()) == [log]


def test_one_that_cannot_be_read_whole_stays_as_it_is(log, monkeypatch):
    def with_nonsense(path, _):
        yield from documents_of_file(path)
        yield b'{"form":1,"kind":"lost"}\n'

    before = log.read_bytes()
    monkeypatch.setattr(log_without, "limited_lines", with_nonsense)
    with refusal(LogError, "both.sqlite is a log into which several played"):
        write_log_without(log, {ADA.uuid}, now=NOW)
    assert log.read_bytes() == before
    assert list(log.parent.iterdir()) == [log]


def test_where_nothing_can_be_written_it_stays_as_it_is_and_is_told(log, monkeypatch):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    before = log.read_bytes()
    monkeypatch.setattr(log_without, "open_store", full)
    with refusal(LogError, "No space left on device"):
        write_log_without(log, {ADA.uuid}, now=NOW)
    assert log.read_bytes() == before
