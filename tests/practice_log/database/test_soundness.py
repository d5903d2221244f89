"""What is wrong with a log is found before anything is written to it."""

import os
import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from game.practice_log.database import soundness as module
from game.practice_log.database.migrations import MIGRATIONS, migrate
from game.practice_log.database.soundness import DamageKind, damage_of, journal_is_foreign
from game.practice_log.database.store import APPLICATION_ID, open_store
from game.practice_log.rows.take_rows import put_take
from game.text.catalogue import tell
from tests.practice_log.logged_takes import DEVICE, MORNING, begun
from tests.practice_log.transfer.damaged_files import cut_off, flip, pages_of
from tests.practice_log.transfer.hostile_files import ENDLESS, log_of, planted
from tests.sampling import sample


def kind_of(path: Path) -> DamageKind | None:
    found = damage_of(path)
    assert found is None or tell(found.told)
    return found and found.kind


def crashed(tmp_path: Path, name: str, takes: int, more: int) -> Path:
    """A log of so many takes in its file, and so many more in the journal beside it."""
    log = open_store(log_of(tmp_path / f"{name}-open.sqlite", takes), now_utc=MORNING)
    for minutes in range(takes, takes + more):
        put_take(log, begun(minutes=minutes), DEVICE)
    for ending in ("", "-wal"):
        shutil.copyfile(tmp_path / f"{name}-open.sqlite{ending}", tmp_path / f"{name}.sqlite{ending}")
    log.close()
    return tmp_path / f"{name}.sqlite"


def test_a_sound_log_and_one_that_is_not_there_are_sound(tmp_path: Path):
    assert kind_of(log_of(tmp_path / "a.sqlite", 30)) is None
    assert kind_of(tmp_path / "none.sqlite") is None
    (tmp_path / "empty.sqlite").touch()
    assert kind_of(tmp_path / "empty.sqlite") is None


@pytest.mark.parametrize("version", range(1, len(MIGRATIONS) + 1))
def test_a_log_of_every_version_is_sound(tmp_path: Path, version: int):
    with closing(sqlite3.connect(tmp_path / "a.sqlite", isolation_level=None)) as log:
        log.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        migrate(log, now_utc=MORNING, migrations=MIGRATIONS[:version])
    assert kind_of(tmp_path / "a.sqlite") is None


def test_the_log_that_the_first_version_left_is_sound(tmp_path: Path):
    with closing(sqlite3.connect(tmp_path / "a.sqlite", isolation_level=None)) as log:
        log.executescript((Path(__file__).parent / "version_1.sql").read_text(encoding="utf-8"))
        log.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    assert kind_of(tmp_path / "a.sqlite") is None


def test_a_log_that_is_open_and_played_into_is_sound(tmp_path: Path):
    log = open_store(tmp_path / "a.sqlite", now_utc=MORNING)
    put_take(log, begun(), DEVICE)
    assert kind_of(tmp_path / "a.sqlite") is None
    log.close()


PAGES = 58


@pytest.mark.parametrize("page", sample(range(1, PAGES + 1), by_default=6))
def test_every_page_that_is_flipped_is_noticed(tmp_path: Path, page: int):
    path = log_of(tmp_path / "a.sqlite", 150)
    assert pages_of(path) >= PAGES
    assert kind_of(flip(path, page)) in (DamageKind.BROKEN, DamageKind.NO_LOG)


@pytest.mark.parametrize("share", [0.001, 0.01, 0.3, 0.7, 0.999])
def test_a_log_that_is_cut_off_anywhere_is_noticed(tmp_path: Path, share: float):
    path = log_of(tmp_path / "a.sqlite", 30)
    assert kind_of(cut_off(path, int(path.stat().st_size * share))) in (DamageKind.BROKEN, DamageKind.NO_LOG)


@pytest.mark.parametrize("content", [b"x", b"strings, a capo" * 500, b"SQLite format 3\x00"])
def test_what_is_no_log_is_noticed(tmp_path: Path, content: bytes):
    (tmp_path / "a.sqlite").write_bytes(content)
    assert kind_of(tmp_path / "a.sqlite") in (DamageKind.NO_LOG, DamageKind.BROKEN)


def test_another_programs_file_and_what_is_no_file_are_noticed(tmp_path: Path):
    with closing(sqlite3.connect(tmp_path / "a.sqlite")) as other:
        other.execute("CREATE TABLE t (x)")
    assert kind_of(tmp_path / "a.sqlite") is DamageKind.NO_LOG
    os.mkfifo(tmp_path / "pipe.sqlite")
    assert kind_of(tmp_path / "pipe.sqlite") is DamageKind.NO_LOG
    assert kind_of(tmp_path) is DamageKind.NO_LOG


@pytest.mark.parametrize(
    ("statements", "name"),
    [
        ([f"CREATE VIEW endless AS {ENDLESS}"], "endless"),
        (["CREATE TRIGGER more AFTER INSERT ON take BEGIN DELETE FROM help; END"], "more"),
        (["CREATE TABLE more (x)"], "more"),
        (["CREATE INDEX more ON take (stage)"], "more"),
        (
            [
                "DROP TRIGGER take_no_update",
                "CREATE TRIGGER take_no_update AFTER UPDATE ON take BEGIN DELETE FROM help; END",
            ],
            "take_no_update",
        ),
        (["DROP TABLE help"], "help"),
        (["DROP TABLE help", "CREATE VIEW help AS SELECT 1"], "help"),
    ],
)
def test_what_was_planted_is_noticed_by_name_and_not_begun(tmp_path: Path, statements: list[str], name: str):
    found = damage_of(planted(log_of(tmp_path / "a.sqlite", 2), *statements))
    assert found is not None
    assert found.kind is DamageKind.PLANTED
    assert name in tell(found.told)


def test_a_newer_programs_log_is_noticed(tmp_path: Path):
    path = planted(log_of(tmp_path / "a.sqlite", 1), "INSERT INTO migration (name, applied_utc) VALUES ('later', '')")
    assert kind_of(path) is DamageKind.NEWER


def test_the_journal_that_a_crash_left_belongs_to_the_log(tmp_path: Path):
    path = crashed(tmp_path, "a", 3, 2)
    assert not journal_is_foreign(path)
    assert kind_of(path) is None


def test_a_journal_of_another_log_is_foreign(tmp_path: Path):
    one, other = crashed(tmp_path, "a", 40, 2), crashed(tmp_path, "b", 3, 1)
    shutil.copyfile(f"{other}-wal", f"{one}-wal")
    assert journal_is_foreign(one)
    assert kind_of(one) is DamageKind.FOREIGN_JOURNAL


def test_of_a_large_log_a_foreign_journal_is_told_by_what_would_be_gone(tmp_path: Path, monkeypatch):
    """It is neither copied nor gone through: after a crash that would keep the next start waiting for seconds."""
    monkeypatch.setattr(module, "CHECKED_AT_ONCE_BYTES", 1000)
    monkeypatch.setattr(module, "_ask_for_order", None)
    own, one, other = crashed(tmp_path, "own", 40, 2), crashed(tmp_path, "a", 40, 2), crashed(tmp_path, "b", 3, 1)
    shutil.copyfile(f"{other}-wal", f"{one}-wal")
    before = one.read_bytes()
    assert (kind_of(own), kind_of(one)) == (None, DamageKind.FOREIGN_JOURNAL)
    assert one.read_bytes() == before


def test_a_journal_that_holds_another_log_whole_is_foreign(tmp_path: Path):
    """With it the file would be that log, and its own takes gone."""
    one = log_of(tmp_path / "a.sqlite", 4)
    other = open_store(tmp_path / "b.sqlite", now_utc=MORNING)
    put_take(other, begun(minutes=77), DEVICE)
    shutil.copyfile(tmp_path / "b.sqlite-wal", tmp_path / "a.sqlite-wal")
    other.close()
    assert journal_is_foreign(one)


def test_without_a_journal_or_with_one_that_holds_nothing_none_is_foreign(tmp_path: Path):
    path = log_of(tmp_path / "a.sqlite", 2)
    assert not journal_is_foreign(path)
    (tmp_path / "a.sqlite-wal").write_bytes(b"nonsense" * 1000)
    assert not journal_is_foreign(path)


def test_a_log_that_cannot_be_opened_now_is_not_called_damaged(tmp_path: Path, monkeypatch):
    path = log_of(tmp_path / "a.sqlite", 2)

    def refused(*_):
        error = sqlite3.OperationalError("unable to open database file")
        error.sqlite_errorcode = sqlite3.SQLITE_CANTOPEN
        raise error

    monkeypatch.setattr(module, "_opened", refused)
    assert kind_of(path) is None


def test_a_large_log_is_gone_through_only_when_that_is_asked_for(tmp_path: Path, monkeypatch):
    path = log_of(tmp_path / "a.sqlite", 150)
    monkeypatch.setattr(module, "CHECKED_AT_ONCE_BYTES", 1000)
    flip(path, pages_of(path) - 1)
    assert damage_of(path) is None
    assert damage_of(path, whole=True) is not None
