"""A back-up comes back in the place of the log, and nothing else does."""

import sqlite3
import stat
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.back_ups import restoring as module
from game.practice_log.back_ups.backup import back_up, checked_take_count
from game.practice_log.back_ups.restoring import restore
from game.practice_log.database.known_tables import known_objects, objects_in
from game.practice_log.database.migrations import MIGRATIONS, applied, migrate
from game.practice_log.database.opening import opened_log
from game.practice_log.database.store import APPLICATION_ID, open_store
from game.practice_log.rows.take_rows import put_take
from game.practice_log.transfer.erased import mark_erased
from tests.practice_log.logged_takes import DEVICE, MORNING, begun
from tests.practice_log.old_logs.unpacking import FACTS, LOG, unpacked
from tests.practice_log.transfer.hostile_files import endless_view, log_of, members_of, planted
from tests.refusing import refusal
from tests.sampling import sample

NOW = datetime(2026, 12, 1, 18, tzinfo=UTC)


@pytest.fixture
def log(tmp_path: Path) -> Path:
    return log_of(tmp_path / "practice.sqlite", 3)


def test_a_copy_comes_back_in_the_place_of_the_log_and_that_is_kept_beside_it(log: Path, tmp_path: Path):
    back_up(log, tmp_path / "copy.sqlite")
    with closing(open_store(log, now_utc=MORNING)) as connection:
        put_take(connection, begun(minutes=9), DEVICE)
    takes, kept = restore(tmp_path / "copy.sqlite", log, now_utc=NOW)
    assert (takes, kept) == (3, log.with_name("practice-before-20261201T180000000000.sqlite"))
    assert (checked_take_count(log), checked_take_count(kept)) == (3, 4)


def test_where_there_was_no_log_none_is_kept(log: Path, tmp_path: Path):
    assert restore(log, tmp_path / "new" / "practice.sqlite", now_utc=NOW) == (3, None)
    assert checked_take_count(tmp_path / "new" / "practice.sqlite") == 3


def test_a_log_that_is_damaged_is_moved_away_as_it_is_and_replaced(log: Path, tmp_path: Path):
    back_up(log, tmp_path / "copy.sqlite")
    log.write_bytes(b"nonsense" * 1000)
    takes, kept = restore(tmp_path / "copy.sqlite", log, now_utc=NOW)
    assert (takes, checked_take_count(log)) == (3, 3)
    assert kept.read_bytes() == b"nonsense" * 1000


def test_a_log_is_not_its_own_copy(log: Path):
    with refusal(LogError, r"practice\.sqlite"):
        restore(log, log, now_utc=NOW)


def of_another_program(path: Path) -> None:
    with closing(sqlite3.connect(path)) as other, other:
        other.execute("CREATE TABLE take (take)")


def of_a_newer_program(path: Path) -> None:
    log_of(path, 1)
    with closing(sqlite3.connect(path)) as newer, newer:
        newer.execute("INSERT INTO migration (name, applied_utc) VALUES ('of tomorrow', '')")


def of_a_broken_disk(path: Path) -> None:
    """A log whose pages do not hang together any more, marked as ours."""
    log_of(path, 40)
    content = bytearray(path.read_bytes())
    content[4096 * 3 : 4096 * 9] = b"\xa5" * (4096 * 6)
    path.write_bytes(content)
    assert content[68:72] == APPLICATION_ID.to_bytes(4, "big")


@pytest.mark.parametrize(
    ("made", "sentence"),
    [
        (lambda path: path.write_text("strings, a capo"), "no practice log"),
        (of_another_program, "is no practice log"),
        (of_a_newer_program, "newer"),
        (of_a_broken_disk, "damaged"),
        (Path.exists, "there is no file"),
    ],
    ids=["text", "another program's", "a newer program's", "broken", "none"],
)
def test_what_is_no_sound_log_of_ours_takes_no_logs_place(log: Path, tmp_path: Path, made, sentence: str):
    made(tmp_path / "other.sqlite")
    before = log.read_bytes()
    with refusal(LogError, sentence):
        restore(tmp_path / "other.sqlite", log, now_utc=NOW)
    assert log.read_bytes() == before
    assert not list(tmp_path.glob("*before*"))


def test_an_export_takes_no_logs_place(log: Path, tmp_path: Path):
    (tmp_path / "other").mkdir()
    members_of(tmp_path / "other" / "a.sqlite")
    with refusal(LogError, "is no practice log"):
        restore(tmp_path / "other" / "a.zip", log, now_utc=NOW)


def test_only_the_rows_of_known_tables_come_back(log: Path, tmp_path: Path):
    copy = log_of(tmp_path / "copy.sqlite", 2)
    planted(
        copy,
        "CREATE VIEW planted AS SELECT 1",
        "CREATE TABLE other (x)",
        "CREATE TRIGGER planted_too AFTER INSERT ON take BEGIN SELECT 1; END",
    )
    restore(copy, log, now_utc=NOW)
    with closing(sqlite3.connect(log)) as restored:
        assert objects_in(restored) <= known_objects() | {("table", "migration", _sql_of(restored, "migration"))}
        assert restored.execute("SELECT count(*) FROM take").fetchone() == (2,)


def _sql_of(log: sqlite3.Connection, name: str) -> str:
    return log.execute("SELECT sql FROM sqlite_master WHERE name = ?", (name,)).fetchone()[0]


def test_a_view_without_end_in_the_place_of_a_table_is_refused_for_the_rows_that_lack(log: Path, tmp_path: Path):
    copy = endless_view(log_of(tmp_path / "copy.sqlite", 2))
    with refusal(LogError, "damaged"):
        restore(copy, log, now_utc=NOW)
    assert checked_take_count(log) == 3


def test_a_log_of_an_older_program_is_brought_up_to_date(log: Path, tmp_path: Path):
    with closing(sqlite3.connect(tmp_path / "old.sqlite", isolation_level=None)) as old:
        old.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        migrate(old, now_utc=MORNING, migrations=MIGRATIONS[:1])
    restore(tmp_path / "old.sqlite", log, now_utc=NOW)
    with closing(sqlite3.connect(log)) as restored:
        assert applied(restored) == tuple(migration.name for migration in MIGRATIONS)


def test_all_that_is_left_is_the_log_and_the_one_of_before_for_their_owner_alone(log: Path, tmp_path: Path):
    playing = open_store(log, now_utc=MORNING)
    put_take(playing, begun(minutes=9), DEVICE)
    copy = log_of(tmp_path / "copy.sqlite", 1)
    journal = log.with_name("practice.sqlite-wal").read_bytes()
    playing.close()
    log.with_name("practice.sqlite-wal").write_bytes(journal)  # as a crash leaves it
    _, kept = restore(copy, log, now_utc=NOW)
    left = {file.name for file in tmp_path.iterdir()}
    beside = {"practice.sqlite.in-use", "player.json", "device.json"}
    assert left == {"practice.sqlite", "copy.sqlite", kept.name} | beside
    assert {stat.S_IMODE(file.stat().st_mode) for file in (log, kept)} == {0o600}
    assert (checked_take_count(log), checked_take_count(kept)) == (1, 4)


class StoppedError(Exception):
    """As if the computer stopped here."""


STEPS = [
    "write_copy",
    "make_empty_log",
    "checked_take_count",
    "_keep",
    "copy_whole",
    "_empty_journal",
    "_on_disk",
    "replace",
]


@pytest.mark.parametrize("step", sample(STEPS, by_default=1))
@pytest.mark.parametrize("after", [False, True])
def test_wherever_it_is_interrupted_the_old_log_is_whole_or_the_new_one(
    log: Path, tmp_path: Path, monkeypatch, step: str, after: bool
):
    copy = log_of(tmp_path / "copy.sqlite", 1)
    place = Path if step == "replace" else module
    whole = getattr(place, step)

    def stopped(*args, **options):
        if after:
            whole(*args, **options)
        raise StoppedError

    with monkeypatch.context() as patched:
        patched.setattr(place, step, stopped)
        with pytest.raises(StoppedError):
            restore(copy, log, now_utc=NOW)
    assert checked_take_count(log) == (1 if (step, after) == ("replace", True) else 3)
    assert restore(copy, log, now_utc=NOW)[0] == 1


def test_a_full_disk_leaves_the_log_as_it_is_and_is_said(log: Path, tmp_path: Path, monkeypatch):
    def full(*_, **__):
        raise sqlite3.OperationalError("database or disk is full")

    monkeypatch.setattr(module, "write_copy", full)
    with refusal(LogError, "cannot be replaced.*full"):
        restore(log_of(tmp_path / "copy.sqlite", 1), log, now_utc=NOW)
    assert checked_take_count(log) == 3


def test_a_player_who_was_erased_here_does_not_come_back_by_a_back_up(tmp_path: Path):
    """By whichever of their ids it knows them."""
    folder = tmp_path / "players" / "0001"
    copy = unpacked("third_computer", tmp_path / "third") / LOG
    restore(copy, folder / LOG, now_utc=NOW)
    with opened_log(folder / LOG):
        pass
    back_up(folder / LOG, tmp_path / "copy.sqlite")
    *_, other = FACTS["third_computer"]["players"]
    mark_erased(tmp_path, [UUID(other)], NOW.date())
    for taken_in in (copy, tmp_path / "copy.sqlite"):
        with refusal(LogError, r"erased here: .* delete .*/erased-[0-9a-f]{64}\.json"):
            restore(taken_in, folder / LOG, now_utc=NOW)
    assert checked_take_count(folder / LOG) == len(FACTS["third_computer"]["takes"])
    restore(log_of(tmp_path / "of another.sqlite", 2), folder / LOG, now_utc=NOW)
