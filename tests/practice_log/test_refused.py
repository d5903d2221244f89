"""Whatever a disk or a system refuses, the game says so in one sentence, and nothing that was played is lost."""

import os
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from game.player.player_log import PlayerLog
from game.player.profiles import LOG_FILE
from tests.practice_log.logged_takes import MORNING, begun, notes_of
from tests.practice_log.transfer.hostile_files import log_of
from tests.sampling import runs_all, sample

pytest.importorskip("resource", reason="limits are set by POSIX")

NOTES = len(notes_of(begun()))


def game(folder: Path, what: str, minutes: int) -> subprocess.Popen:
    command = [sys.executable, "-m", "tests.practice_log.refused_process", str(folder), what, str(minutes)]
    return subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def told(process: subprocess.Popen) -> tuple[str, str]:
    """What was said while playing and at the end; nothing else, and no trace."""
    out, err = process.communicate(timeout=120)
    assert (process.returncode, err) == (0, "")
    playing, leaving = out.splitlines()
    return playing, leaving


def takes(folder: Path) -> list[tuple[int, int]]:
    """Each take with the number of its notes, in the order of their times, and that all are judged."""
    with closing(sqlite3.connect(folder / LOG_FILE)) as log:
        assert log.execute("SELECT take FROM played EXCEPT SELECT take FROM judgement").fetchall() == []
        assert log.execute("PRAGMA integrity_check").fetchone() == ("ok",)
        return log.execute("SELECT count(*) FROM take JOIN played USING (take) GROUP BY take").fetchall()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "home").mkdir()
    return tmp_path / "home"


def next_start(folder: Path) -> None:
    """The game a while later, refused nothing: by default in this process, which begins anew with what is there."""
    if runs_all():
        assert told(game(folder, "nothing", 600)) == ("", "")
        return
    # Not before it is known that there are limits here.
    from tests.practice_log.refused_process import play

    log = PlayerLog(folder, now=lambda: MORNING + timedelta(minutes=600))
    play(log, 600)
    assert log.flush()
    assert (log.trouble, log.close()) == (None, None)


@pytest.mark.parametrize("there", sample([0, 40], by_default=1))
def test_a_full_disk(folder: Path, there: int):
    if there:
        log_of(folder / LOG_FILE, there)
    playing, leaving = told(game(folder, "disk", 300))
    assert playing.startswith("the log cannot be written (")
    assert "practice-rescue-" in leaving
    next_start(folder)
    assert takes(folder)[-2:] == [(NOTES,), (NOTES,)]
    assert not list(folder.glob("*rescue*"))


@pytest.mark.parametrize("what", sample(["handles", "all handles"], by_default=1))
def test_a_limit_of_sixteen_handles(folder: Path, what: str):
    playing, leaving = told(game(folder, what, 300))
    if playing:
        assert playing.startswith("the log cannot be written (")
        assert "rescue-" in leaving
    next_start(folder)
    assert takes(folder) == [(NOTES,), (NOTES,)]


def test_a_folder_that_is_read_only(folder: Path):
    log_of(folder / LOG_FILE, 1)
    folder.chmod(0o555)
    (folder / LOG_FILE).chmod(0o444)
    playing, leaving = told(game(folder, "writing", 300))
    folder.chmod(0o755)
    (folder / LOG_FILE).chmod(0o644)
    assert playing.startswith("the log cannot be written (")
    assert "homefret-rescue-" in leaving
    next_start(folder)
    assert takes(folder)[-2:] == [(NOTES,), (NOTES,)]
    assert not list(Path(os.environ["HOME"]).glob("homefret-rescue-*"))


def test_a_log_that_another_program_holds(folder: Path):
    next_start(folder)
    with closing(sqlite3.connect(folder / LOG_FILE, isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        playing, leaving = told(game(folder, "nothing", 300))
        other.execute("ROLLBACK")
    assert playing == "the log cannot be written (another program holds it): kept in memory until it can"
    assert leaving.startswith("the log could not be written (another program holds it): what was played is kept in")
    next_start(folder)
    assert takes(folder) == [(NOTES,)] * 3


def test_two_games_on_one_log(folder: Path):
    games = [game(folder, "nothing", minutes) for minutes in (300, 301)]
    assert [told(one) for one in games] == [("", "")] * 2
    assert takes(folder) == [(NOTES,), (NOTES,)]
    with closing(sqlite3.connect(folder / LOG_FILE)) as log:
        assert log.execute("SELECT count(*), count(DISTINCT sequence) FROM entry").fetchone() == (4, 4)
