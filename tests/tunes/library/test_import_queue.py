"""What is dropped on the window: one file, a folder of two hundred, and faults among them."""

import os
import signal
import threading
import time

import pytest

from game.neck.neck_map import standard_map
from game.text.catalogue import tell
from game.tunes.library import adding
from game.tunes.library.import_queue import ImportQueue
from game.tunes.library.import_results import (
    ImportDone,
    ImportNews,
    ImportProgress,
    ImportRefused,
    ImportStarted,
    PartsToChoose,
)
from game.tunes.library.library import add, shelf
from game.tunes.library.shelf_order import ShelfOrder, ordered
from game.tunes.sandbox.reading_process import ReadingProcess
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts
from tests.tunes.made_tunes import abc, midi, musicxml

BROKEN = (b"", b"strings, a capo", b"<score-partwise>", b"MThd", b"X:1\nK:C\n", b"PK\x03\x04", b"\x00" * 50)
ENDINGS = (".abc", ".mid", ".xml")


@pytest.fixture
def folder(tmp_path):
    """Two hundred files in folders: 100 of ABC, 60 of MIDI, 20 of MusicXML and 20 that are broken."""
    contents = [abc(number) for number in range(100)] + [midi(number) for number in range(60)]
    contents += [musicxml(number) for number in range(20)]
    contents += [BROKEN[number % len(BROKEN)] + b" " * number for number in range(20)]
    for number, content in enumerate(contents):
        path = tmp_path / "tunes" / f"folder {number % 4}" / f"{number:03}{ENDINGS[number % 3]}"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    return tmp_path / "tunes"


def settled(arrivals: ImportQueue) -> list[ImportNews]:
    """All that is new until all is read."""
    said = []
    ends = time.monotonic() + 120
    while arrivals.busy:
        assert time.monotonic() < ends, "the files were never read"
        news = arrivals.poll()
        if news is not None:
            said.append(news)
        time.sleep(0.002)
    return said


def test_a_folder_of_two_hundred_files_comes_on_the_shelf_and_is_found_by_what_to_read_next(folder):
    """Each good file is there, each broken one was passed over, progress was told, and the easiest stands first."""
    arrivals = ImportQueue()
    assert arrivals.drop(folder) == ImportStarted(folder)
    *progress, done = settled(arrivals)
    assert len(progress) > 20
    assert all(isinstance(news, ImportProgress) and news.count == 200 for news in progress)
    assert [news.number for news in progress] == sorted({news.number for news in progress})
    assert done is arrivals.last
    own = [entry for entry in shelf() if not entry.shipped]
    assert len(own) == len(arrivals.last.entries) == 180
    assert (done.files, len(done.faults), done.several) == (200, 20, True)
    neck_map = standard_map()
    first = ordered(own, ShelfOrder.NEXT, neck_map)
    assert len(first) == 180
    assert first[0].density <= 1
    assert first[0].chromatic == 0
    assert first[-1].chromatic > 0 or first[-1].highest > 73 or first[-1].lowest < 44


def test_reading_goes_on_beside_whoever_asks(folder, monkeypatch):
    """However often they look while a file is being read, no look waits for it."""
    let_go = threading.Event()

    def held_back(*given, **chosen):
        assert let_go.wait(60)
        return add(*given, **chosen)

    monkeypatch.setattr(adding, "add", held_back)
    arrivals = ImportQueue()
    arrivals.drop(folder / "folder 0" / "000.abc")
    assert [arrivals.poll() for _ in range(100)] == [None] * 100
    assert arrivals.busy
    let_go.set()
    settled(arrivals)
    assert arrivals.newest.title == "Tune 0"
    assert not arrivals.last.several


def test_the_reading_of_a_folder_can_be_left_and_what_came_stays(folder, monkeypatch):
    """The file at hand is let go; how many were not read is told, and the next dropping is read as ever."""
    let_go, reached = threading.Event(), threading.Event()

    def held_back(path, **chosen):
        if path.name == "012.abc":
            reached.set()
            assert let_go.wait(60)
        return add(path, **chosen)

    monkeypatch.setattr(adding, "add", held_back)
    arrivals = ImportQueue()
    arrivals.drop(folder / "folder 0")
    arrivals.poll()
    assert reached.wait(60)
    arrivals.drop(folder / "folder 1")
    arrivals.leave()
    let_go.set()
    (done,) = [news for news in settled(arrivals) if isinstance(news, ImportDone)]
    assert [entry.title for entry in done.entries] == ["Tune 0", "Tune 4", "Tune 8"]
    assert len(own()) == 3
    assert (done.files, done.unread) == (50, 47)
    assert arrivals.going_on is None
    arrivals.drop(folder / "folder 2" / "006.abc")
    assert settled(arrivals)[-1].entries[0].title == "Tune 6"


def test_a_file_that_takes_its_time_is_let_go_at_once(tmp_path, monkeypatch):
    """Its reading process is ended: nobody waits for it."""
    (tmp_path / "slow.abc").write_bytes(abc(1))
    began = threading.Event()
    asked = ReadingProcess._running

    def stopped(process):
        running = asked(process)
        os.kill(running.pid, signal.SIGSTOP)
        began.set()
        return running

    monkeypatch.setattr(ReadingProcess, "_running", stopped)
    arrivals = ImportQueue()
    arrivals.drop(tmp_path / "slow.abc")
    arrivals.poll()
    assert began.wait(60)
    assert arrivals.going_on == ImportStarted(tmp_path / "slow.abc")
    arrivals.leave()
    assert settled(arrivals) == [ImportRefused((), 1)]


def test_what_was_not_read_is_kept_until_something_else_is_not(tmp_path):
    arrivals = ImportQueue()
    for name, content in (("bad.abc", b"strings"), ("good.abc", abc(1))):
        (tmp_path / name).write_bytes(content)
        arrivals.drop(tmp_path / name)
        settled(arrivals)
        assert isinstance(arrivals.refused, ImportRefused)
    arrivals.drop(tmp_path)
    settled(arrivals)
    assert isinstance(arrivals.refused, ImportDone)


def own():
    return [entry for entry in shelf() if not entry.shipped]


def test_files_dropped_at_once_are_one_dropping_and_later_ones_another(folder):
    """The window gives each file of a dropping by itself."""
    arrivals = ImportQueue()
    files = sorted((folder / "folder 1").glob("*.abc"))[:3]
    for path in files:
        arrivals.drop(path)
    arrivals.poll()
    arrivals.drop(folder / "folder 2" / "006.abc")
    said = settled(arrivals)
    done = [[entry.title for entry in news.entries] for news in said if isinstance(news, ImportDone)]
    assert done == [["Tune 9", "Tune 21", "Tune 33"], ["Tune 6"]]


def test_a_book_of_tunes_comes_on_the_shelf_whole_and_a_fault_beside_it_is_told(tmp_path):
    """Several tunes in one file; with a broken file, how many were not read and why the first was not."""
    book = tmp_path / "book.abc"
    book.write_bytes(abc(1) + b"\n" + abc(2))
    arrivals = ImportQueue()
    arrivals.drop(book)
    done = settled(arrivals)[-1]
    assert [entry.title for entry in done.entries] == ["Tune 1", "Tune 2"]
    assert (done.files, done.faults, done.several) == (1, (), True)
    (tmp_path / "bad.abc").write_bytes(b"strings")
    (tmp_path / "good.abc").write_bytes(abc(3))
    for name in ("bad.abc", "good.abc"):
        arrivals.drop(tmp_path / name)
    done = settled(arrivals)[-1]
    assert [entry.title for entry in done.entries] == ["Tune 3"]
    (fault,) = done.faults
    assert tell(fault).startswith("bad.abc: is not a music file we know")


def test_a_score_of_several_parts_waits_to_be_told_which_is_meant(tmp_path):
    """The answer is dropped like the file itself."""
    duo = tmp_path / "duo.xml"
    bar = measure(ATTRIBUTES + "".join(note(name) for name in ("C4", "D4", "E4", "C5")))
    duo.write_bytes(parts(("Flute", bar), ("Bass", bar)))
    arrivals = ImportQueue()
    arrivals.drop(duo)
    assert settled(arrivals) == [PartsToChoose(duo, ("Flute", "Bass"))]
    assert (arrivals.to_choose, arrivals.newest, arrivals.last) == (PartsToChoose(duo, ("Flute", "Bass")), None, None)
    arrivals.drop(duo, 2)
    assert arrivals.to_choose is None
    assert settled(arrivals)[-1].entries[0].part == "Bass"


def test_of_two_scores_of_several_parts_both_are_asked_for_one_after_the_other(tmp_path):
    duos = [tmp_path / "first.xml", tmp_path / "second.xml"]
    arrivals = ImportQueue()
    for duo in duos:
        bar = measure(ATTRIBUTES + "".join(note(name) for name in ("C4", "D4", "E4", "F4" if duo is duos[0] else "G4")))
        duo.write_bytes(parts(("Flute", bar), ("Bass", bar)))
        arrivals.drop(duo)
        settled(arrivals)
    assert arrivals.to_choose == PartsToChoose(duos[1], ("Flute", "Bass"))
    arrivals.drop(duos[1], 2)
    assert isinstance(settled(arrivals)[-1], ImportDone)
    assert (arrivals.poll(), arrivals.poll()) == (PartsToChoose(duos[0], ("Flute", "Bass")), None)
    arrivals.drop(duos[0], 1)
    assert (arrivals.to_choose, settled(arrivals)[-1].entries[0].part) == (None, "Flute")


def test_an_empty_folder_and_a_broken_file_bring_nothing_and_say_why(tmp_path):
    """Nothing is on the shelf that was not there."""
    (tmp_path / "nothing").mkdir()
    arrivals = ImportQueue()
    arrivals.drop(tmp_path / "nothing")
    assert settled(arrivals) == [ImportRefused()]
    (tmp_path / "x.abc").write_bytes(b"strings")
    arrivals.drop(tmp_path / "x.abc")
    (refused,) = settled(arrivals)
    assert tell(refused.faults[0]).startswith("x.abc: is not a music file we know")
    assert (arrivals.newest, arrivals.last) == (None, None)
