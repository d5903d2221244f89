"""What cannot be written now stays in memory, is said, and is written once it can be."""

import sqlite3
import threading

import pytest

from game.errors import LogError
from game.message import verbatim
from game.practice_log.database.store import open_store
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.rows.take_rows import takes_where
from game.practice_log.writing import writer as writer_module
from game.practice_log.writing.entries import AddPlayed, BeginTake, EndTake
from game.practice_log.writing.writer import Writer, trouble_of
from game.text.catalogue import tell
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended, judged, notes_of

WAIT_S = 60.0


class Shelf:
    """A log file whose connections can be taken hold of. `pages` limits its size as a full disk would."""

    def __init__(self, path):
        self.path, self.pages, self.opened, self.refusal = path, None, [], None

    def open(self):
        if self.refusal:
            raise self.refusal
        connection = open_store(self.path, now_utc=MORNING, busy_s=0.01)
        if self.pages:
            connection.execute(f"PRAGMA max_page_count = {self.pages}")
        self.opened.append(connection)
        return connection

    def clear_room(self):
        self.pages = None
        self.opened[-1].execute("PRAGMA max_page_count = 1000000")

    def takes(self):
        log = open_store(self.path, now_utc=MORNING)
        found = [(take, raw_take(log, take.take), judgement_of(log, take.take)) for take in takes_where(log, "1", ())]
        log.close()
        return found


@pytest.fixture(name="shelf")
def a_shelf(tmp_path, monkeypatch):
    monkeypatch.setattr(writer_module, "RETRY_AFTER_S", 0.02)
    monkeypatch.setattr(writer_module, "COMMIT_AFTER_S", 0.01)
    return Shelf(tmp_path / "practice.sqlite")


def put_takes(writer, handles, *, minutes=0):
    for handle in handles:
        take = begun(minutes=minutes + handle)
        writer.put(BeginTake(handle, take, DEVICE))
        for note in notes_of(take, wrong={1}):
            writer.put(AddPlayed(handle, note, 0.0))
        writer.put(EndTake(handle, ended(judged(take, notes_of(take, wrong={1}))), 0.0, DEVICE))


def until_well(writer):
    """Wait for the writer's own next tries, without a hint that there is room again."""
    done = threading.Event()
    for _ in range(int(WAIT_S / 0.05)):
        if writer.trouble is None:
            return
        done.wait(0.05)
    pytest.fail(f"still in trouble: {writer.trouble}")


def whole(shelf):
    return [
        (raw.played, judgement)
        == (notes_of(take.begun, wrong={1}), judged(take.begun, notes_of(take.begun, wrong={1})))
        for take, raw, judgement in shelf.takes()
    ]


def test_everything_is_in_the_file_after_a_clean_close(shelf):
    writer = Writer(shelf.open)
    put_takes(writer, range(3))
    assert writer.close(WAIT_S)
    assert writer.trouble is None
    assert whole(shelf) == [True] * 3


def test_a_full_disk_is_said_and_all_is_written_once_there_is_room(shelf, monkeypatch):
    # All in one commit: one small enough would find room in pages that are there.
    monkeypatch.setattr(writer_module, "COMMIT_AFTER_S", WAIT_S)
    open_store(shelf.path, now_utc=MORNING).close()
    shelf.pages = shelf.path.stat().st_size // 4096
    writer = Writer(shelf.open)
    put_takes(writer, range(40))
    assert not writer.flush(WAIT_S)
    assert tell(writer.trouble) == "the log cannot be written (disk full): kept in memory until it can"
    assert shelf.takes() == []
    shelf.clear_room()
    until_well(writer)
    put_takes(writer, range(40, 42))
    assert writer.close(WAIT_S)
    assert whole(shelf) == [True] * 42


def test_a_locked_file_is_said_and_all_is_written_once_it_is_free(shelf):
    other = open_store(shelf.path, now_utc=MORNING)
    other.execute("BEGIN IMMEDIATE")
    writer = Writer(shelf.open)
    put_takes(writer, range(2))
    assert not writer.flush(WAIT_S)
    assert tell(writer.trouble) == "the log cannot be written (another program holds it): kept in memory until it can"
    other.execute("ROLLBACK")
    other.close()
    until_well(writer)
    assert writer.close(WAIT_S)
    assert whole(shelf) == [True] * 2


def test_a_log_that_is_held_by_another_program_at_the_start_is_opened_later_without_being_asked(shelf):
    # A lock on the whole file, as a copying program takes it.
    other = sqlite3.connect(shelf.path, isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    writer = Writer(shelf.open)
    assert writer.flush(WAIT_S)
    assert tell(writer.trouble) == "the log cannot be written (another program holds it): kept in memory until it can"
    other.close()
    until_well(writer)
    assert writer.close(WAIT_S)


def test_a_file_that_cannot_be_opened_is_tried_again(shelf):
    shelf.refusal = sqlite3.OperationalError("unable to open database file")
    shelf.refusal.sqlite_errorcode = sqlite3.SQLITE_CANTOPEN
    writer = Writer(shelf.open)
    put_takes(writer, range(1))
    assert not writer.flush(WAIT_S)
    assert tell(writer.trouble) == "the log cannot be written (it cannot be opened): kept in memory until it can"
    shelf.refusal = None
    assert writer.close(WAIT_S)
    assert whole(shelf) == [True]


def test_what_could_not_be_written_at_the_end_is_told(shelf):
    shelf.refusal = LogError(verbatim("the practice log was written by a newer Homefret: update Homefret"))
    writer = Writer(shelf.open)
    put_takes(writer, range(1))
    assert not writer.close(WAIT_S)
    assert tell(writer.trouble).endswith("update Homefret; until then practice is kept in memory only")


def test_one_faulty_entry_is_left_out_and_holds_up_nothing(shelf):
    writer = Writer(shelf.open)
    put_takes(writer, range(1))
    writer.put(AddPlayed(77, notes_of(begun())[0], 0.0))
    put_takes(writer, range(1, 2))
    assert writer.close(WAIT_S)
    assert "one thing could not be logged (AddPlayed: KeyError(77))" in tell(writer.trouble)
    assert whole(shelf) == [True] * 2


def test_takes_under_way_at_the_same_time_do_not_mix(shelf):
    writer = Writer(shelf.open)
    first, second = begun(), begun(minutes=1)
    writer.put(BeginTake(1, first, DEVICE))
    writer.put(BeginTake(2, second, DEVICE))
    for one, other in zip(notes_of(first), notes_of(second, gap_s=0.5), strict=True):
        writer.put(AddPlayed(1, one, 0.0))
        writer.put(AddPlayed(2, other, 0.0))
    assert writer.close(WAIT_S)
    assert [raw.played for _, raw, _ in shelf.takes()] == [notes_of(first), notes_of(second, gap_s=0.5)]


def test_troubles_are_said_in_words():
    said = tell(trouble_of(PermissionError(13, "Permission denied")))
    assert said == "the log cannot be written (Permission denied): kept in memory until it can"
