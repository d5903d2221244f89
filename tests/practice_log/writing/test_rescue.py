"""What could not be written is kept in a file, and the next start takes it in, once."""

import os
import sqlite3
import stat
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from game.practice_log.database.store import open_store
from game.practice_log.writing import rescue as module
from game.practice_log.writing.entries import AddPlayed, BeginTake, EndTake
from game.practice_log.writing.practice_log import PracticeLog
from game.practice_log.writing.rescue import left_by_earlier_runs, write_rescue
from game.text.catalogue import tell
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of, utc_now

TAKE = begun()
NOTES = notes_of(TAKE)
WHOLE = [
    BeginTake(1, TAKE, DEVICE),
    *(AddPlayed(1, note, 0.0) for note in NOTES),
    EndTake(1, ended(judged(TAKE, NOTES)), 0.0, DEVICE),
]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "practice.sqlite"


class Disk:
    """Where the log lies; `full` from now on."""

    def __init__(self, path: Path) -> None:
        self.path, self.full = path, False

    def open(self) -> sqlite3.Connection:
        if self.full:
            error = sqlite3.OperationalError("database or disk is full")
            error.sqlite_errorcode = sqlite3.SQLITE_FULL
            raise error
        return open_store(self.path, now_utc=MORNING)


def opened(path: Path, disk: Disk | None = None) -> PracticeLog:
    return PracticeLog(path, device=DEVICE, now=utc_now, opener=(disk or Disk(path)).open)


def play(log: PracticeLog, take=TAKE) -> None:
    handle = log.begin_take(take, zero_s=0.0)
    for note in NOTES:
        handle.played(note)
    handle.end(ended(judged(take, NOTES)))


def rows(path: Path, table: str) -> list[tuple]:
    with closing(sqlite3.connect(path)) as log:
        return log.execute(f"SELECT * FROM {table}").fetchall()


def rescue_files(folder: Path) -> list[Path]:
    return sorted(folder.glob("*rescue*"))


def test_what_could_not_be_written_is_in_the_log_after_the_next_start_as_if_it_had_been(path: Path, tmp_path: Path):
    (tmp_path / "other").mkdir()
    usual = opened(tmp_path / "other" / "practice.sqlite")
    play(usual)
    assert usual.close() is None
    disk = Disk(path)
    disk.full = True
    log = opened(path, disk)
    play(log)
    said = tell(log.close())
    (file,) = rescue_files(tmp_path)
    assert (
        said == f"the log could not be written (disk full): what was played is kept in {file}, and the next start "
        "takes it in"
    )
    log = opened(path)
    assert log.flush()
    assert rescue_files(tmp_path) == []
    assert log.close() is None
    for table in ("take", "played", "judgement", "verdict", "answer", "entry"):
        assert rows(path, table) == rows(tmp_path / "other" / "practice.sqlite", table)


def test_the_file_is_for_its_owner_alone_and_never_in_the_place_of_another(path: Path):
    first = write_rescue(path, WHOLE, now=MORNING)
    assert stat.S_IMODE(first.stat().st_mode) == 0o600
    before = first.read_bytes()
    assert write_rescue(path, WHOLE[:1], now=MORNING) != first
    assert first.read_bytes() == before


def test_where_nothing_is_left_no_file_is_written(path: Path):
    assert write_rescue(path, (), now=MORNING) is None


def test_a_take_that_was_half_in_the_log_goes_on_where_it_was(path: Path):
    disk = Disk(path)
    log = opened(path, disk)
    handle = log.begin_take(TAKE, zero_s=0.0)
    for note in NOTES[:2]:
        handle.played(note)
    assert log.flush()
    disk.full = True
    log._writer._connection.close()
    for note in NOTES[2:]:
        handle.played(note)
    handle.end(ended(judged(TAKE, NOTES)))
    assert log.close() is not None
    log = opened(path)
    play(log, begun(minutes=30))
    assert log.close() is None
    assert [row[:2] for row in rows(path, "played")] == [(take, i) for take in (1, 2) for i in range(1, len(NOTES) + 1)]
    assert [row[1] for row in rows(path, "judgement")] == [1, 2]


def test_it_is_taken_in_once_though_the_file_could_not_go(path: Path):
    file = write_rescue(path, WHOLE, now=MORNING)
    content = file.read_bytes()
    for _ in range(3):
        log = opened(path)
        assert log.close() is None
        assert not file.exists()
        file.write_bytes(content)
    assert len(rows(path, "take")) == 1


def test_while_the_log_cannot_be_written_the_file_stays_and_is_not_written_again(path: Path, tmp_path: Path):
    file = write_rescue(path, WHOLE, now=MORNING)
    disk = Disk(path)
    disk.full = True
    log = opened(path, disk)
    assert str(file) in tell(log.close())
    assert rescue_files(tmp_path) == [file]
    log = opened(path, disk)
    play(log, begun(minutes=30))
    log.close()
    assert len(rescue_files(tmp_path)) == 2
    assert opened(path).close() is None
    assert [len(rows(path, "take")), rescue_files(tmp_path)] == [2, []]


def test_takes_of_a_killed_run_that_were_being_judged_are_judged_at_the_next_start(path: Path, tmp_path: Path):
    log = opened(path)
    log.begin_take(TAKE, zero_s=0.0).played(NOTES[0])
    log.close()
    disk = Disk(path)
    log = opened(path, disk)
    ((logged, _),) = log.unfinished_takes()
    assert log.flush()
    disk.full = True
    log._writer._connection.close()
    log.reopen_take(logged).end(ended(judged(TAKE, NOTES[:1])))
    log.close()
    assert rescue_files(tmp_path) == []
    log = opened(path)
    assert len(log.unfinished_takes()) == 1
    log.close()


def test_where_the_folder_refuses_it_lies_in_the_home_of_the_player(path: Path, monkeypatch):
    refuse(monkeypatch, path.parent)
    file = write_rescue(path, WHOLE, now=MORNING)
    assert file.parent == Path.home()
    (found,) = left_by_earlier_runs(path).entries
    assert found.path == file
    assert left_by_earlier_runs(path.with_name("other.sqlite")).entries == ()


def test_and_else_among_the_temporary_files(path: Path, monkeypatch, tmp_path: Path):
    temporary = temporary_files(tmp_path, monkeypatch)
    refuse(monkeypatch, path.parent, Path.home())
    file = write_rescue(path, WHOLE, now=MORNING)
    assert file.parent.parent == temporary
    assert [stat.S_IMODE(one.stat().st_mode) for one in (file.parent, file)] == [0o700, 0o600]
    assert opened(path).close() is None
    assert len(rows(path, "take")) == 1
    assert list(temporary.iterdir()) == []


def temporary_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder for them."""
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr(module.tempfile, "gettempdir", lambda: str(tmp_path / "temporary"))
    return tmp_path / "temporary"


def test_the_temporary_files_of_others_are_not_looked_through(path: Path, monkeypatch, tmp_path: Path):
    """There may be tens of thousands, and each start looks for what was left."""
    temporary, looked = temporary_files(tmp_path, monkeypatch), list[Path]()
    usual = os.scandir
    monkeypatch.setattr(module.os, "scandir", lambda folder: looked.append(Path(folder)) or usual(folder))
    assert left_by_earlier_runs(path).entries == ()
    assert path.parent in looked
    assert temporary not in looked


@pytest.mark.parametrize("others", ["a file", "a link", "a folder of another user"])
def test_a_place_among_the_temporary_files_that_somebody_else_took_before_is_left_alone(
    path: Path, monkeypatch, tmp_path: Path, others: str
):
    temporary = temporary_files(tmp_path, monkeypatch)
    refuse(monkeypatch, path.parent, Path.home())
    file = write_rescue(path, WHOLE, now=MORNING)
    file.unlink()
    file.parent.rmdir()
    if others == "a file":
        file.parent.touch()
    elif others == "a link":
        (tmp_path / "elsewhere").mkdir()
        file.parent.symlink_to(tmp_path / "elsewhere")
    else:
        file.parent.mkdir()
        monkeypatch.setattr(module.os, "getuid", lambda: tmp_path.stat().st_uid + 1)
    assert write_rescue(path, WHOLE, now=MORNING) is None
    assert left_by_earlier_runs(path).entries == ()
    assert [one.name for one in temporary.rglob("*")] == [file.parent.name]


def test_a_log_whose_name_holds_signs_of_patterns_finds_what_was_left_for_it(tmp_path: Path):
    path = tmp_path / "practice [old].sqlite"
    file = write_rescue(path, WHOLE, now=MORNING)
    assert [one.path for one in left_by_earlier_runs(path).entries] == [file]


def test_where_no_folder_takes_it_that_is_said(path: Path, monkeypatch):
    disk = Disk(path)
    disk.full = True
    log = opened(path, disk)
    play(log)
    monkeypatch.setattr(module.os, "open", refused)
    assert tell(log.close()) == "the log cannot be written (disk full): kept in memory until it can"


def refused(*_):
    raise PermissionError(13, "Permission denied")


def refuse(monkeypatch, *folders: Path) -> None:
    usual = os.open

    def open_elsewhere(file, *options):
        return refused() if Path(file).parent in folders else usual(file, *options)

    monkeypatch.setattr(module.os, "open", open_elsewhere)


@pytest.mark.parametrize("content", [b"", b"nonsense", b'{"homefret rescue": 1}\nnonsense\n', b"\xff\xfe"])
def test_a_file_that_cannot_be_read_stays_and_is_said(path: Path, content: bytes):
    file = path.with_name("practice-rescue-20261125T073000000000.jsonl")
    file.write_bytes(content)
    log = opened(path)
    assert log.flush()
    assert tell(log.trouble) == f"{file}, in which something played was kept, cannot be read: it stays where it is"
    log.close()
    assert file.read_bytes() == content


def test_somebody_elses_file_and_what_is_no_file_are_not_taken_in(path: Path, monkeypatch):
    os.mkfifo(path.with_name("practice-rescue-1.jsonl"))
    path.with_name("practice-rescue-2.jsonl").symlink_to("/etc/passwd")
    write_rescue(path, WHOLE, now=MORNING)
    assert len(left_by_earlier_runs(path).entries) == 1
    monkeypatch.setattr(module.os, "getuid", lambda: 4711)
    assert left_by_earlier_runs(path) == module.LeftByEarlierRuns()


def test_the_oldest_comes_first_wherever_it_lies(path: Path):
    write_rescue(path, WHOLE, now=utc_now().replace(hour=9))
    write_rescue(path, WHOLE[:1], now=utc_now().replace(hour=8))
    assert [len(one.entries) for one in left_by_earlier_runs(path).entries] == [1, len(WHOLE)]


def test_what_makes_no_sense_in_the_log_that_is_there_is_left_out_and_the_rest_taken_in(path: Path):
    write_rescue(path, [replace(WHOLE[1], handle=9), *WHOLE], now=MORNING)
    assert opened(path).close() is None
    assert len(rows(path, "played")) == len(NOTES)
