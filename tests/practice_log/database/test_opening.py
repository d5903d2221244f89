"""A log that is only asked."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path
from uuid import UUID

import pytest

from game.errors import LogError
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS, applied, migrate
from game.practice_log.database.opening import log_in_memory, log_owner, open_own, opened_log, players_in
from game.practice_log.database.store import APPLICATION_ID, open_store
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun
from tests.practice_log.transfer.hostile_files import ENDLESS, planted
from tests.refusing import refusal

BO = Identity(uuid=UUID(int=11), name="Bo")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A log in which Ada played, and then Bo."""
    path = tmp_path / "practice.sqlite"
    log = open_store(path, now_utc=MORNING)
    put_take(log, begun(), DEVICE)
    put_take(log, begun(player=BO, minutes=5), DEVICE)
    log.close()
    return path


def old_log(path: Path) -> None:
    """A log as the program of the first version left it."""
    with closing(sqlite3.connect(path, isolation_level=None)) as log, log:
        log.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        migrate(log, now_utc=MORNING, migrations=MIGRATIONS[:1])


def test_a_log_that_is_not_there_is_not_made_by_asking_it(tmp_path: Path):
    with refusal(LogError, "there is no practice log"), opened_log(tmp_path / "practice.sqlite"):
        pass
    assert list(tmp_path.iterdir()) == []


def test_our_own_log_of_an_older_program_is_brought_up_to_date(tmp_path: Path):
    old_log(tmp_path / "practice.sqlite")
    with opened_log(tmp_path / "practice.sqlite") as log:
        assert applied(log) == tuple(migration.name for migration in MIGRATIONS)


def test_a_log_of_somebody_elses_is_brought_up_to_date_in_memory_and_its_file_stays_as_it_is(tmp_path: Path):
    path = tmp_path / "practice.sqlite"
    old_log(path)
    before = path.read_bytes()
    with log_in_memory(path) as log:
        assert applied(log) == tuple(migration.name for migration in MIGRATIONS)
    assert path.read_bytes() == before
    assert [file.name for file in tmp_path.iterdir()] == ["practice.sqlite"]


def test_a_log_that_cannot_be_written_can_be_read_in_memory(path: Path):
    path.chmod(0o400)
    with log_in_memory(path) as log:
        assert len(players_in(log)) == 2


def test_what_is_no_log_is_refused(tmp_path: Path):
    (tmp_path / "a.sqlite").write_bytes(b"strings, a capo" * 300)
    with refusal(LogError, "a.sqlite"), log_in_memory(tmp_path / "a.sqlite"):
        pass
    with refusal(LogError, "a.sqlite"), opened_log(tmp_path / "a.sqlite"):
        pass


def test_players_of_a_log_from_elsewhere_are_told_by_who_played_last(path: Path):
    with log_in_memory(path) as log:
        assert players_in(log) == (BO, PLAYER)
        put_take(log, begun(minutes=9), DEVICE)
        assert players_in(log) == (PLAYER, BO)


def test_our_own_log_is_that_of_one_player_whoever_played_into_it(path: Path):
    """Of whoever took most takes: Ada has one more."""
    with closing(open_store(path, now_utc=MORNING)) as log:
        put_take(log, begun(minutes=9), DEVICE)
    for _ in range(2):
        with opened_log(path) as log:
            assert players_in(log) == (PLAYER,)
            assert log_owner(log, path, "") == PLAYER
            assert log_owner(log, path, "A.") == Identity(uuid=PLAYER.uuid, name="A.")
            facts = log.execute("SELECT about, content FROM fact").fetchall()
            assert facts == [("same player", f'{{"player":"{BO.uuid}"}}')]


def test_a_log_that_cannot_be_made_one_players_now_is_read_as_it_is(path: Path):
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        with closing(open_own(path, now=MORNING)) as log:
            assert len(players_in(log)) == 2
        other.execute("ROLLBACK")
    with opened_log(path) as log:
        assert len(players_in(log)) == 1


def test_a_log_without_a_take_is_nobodys(tmp_path: Path):
    open_store(tmp_path / "practice.sqlite", now_utc=datetime.now(UTC)).close()
    with opened_log(tmp_path / "practice.sqlite") as log, refusal(LogError, "no take"):
        log_owner(log, tmp_path / "practice.sqlite", "")


def test_our_own_log_into_which_somebody_planted_a_view_without_end_is_refused_and_nothing_asked_of_it(path: Path):
    planted(path, "DROP TABLE entry", f"CREATE VIEW entry AS {ENDLESS}")
    with refusal(LogError, "what Homefret did not put there: entry"), opened_log(path):
        pass
