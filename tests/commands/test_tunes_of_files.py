"""Files and folders that a command names, read one after another whatever is wrong with some."""

from dataclasses import replace

import pytest

from game.commands.tunes_of_files import tunes_of
from game.music.score import Reading
from game.text.catalogue import tell
from game.tunes.library.adding import Adder
from game.tunes.library.compact import pack
from game.tunes.library.library import library_folder, open_entry
from game.tunes.sandbox import reading_process
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts

ABC = b"X:1\nT:Ford\nM:4/4\nL:1/4\nK:F\nFGAB|\n"
DUO = parts(*[(name, measure(ATTRIBUTES + note("C4", 16))) for name in ("Flute", "Bass")])


@pytest.fixture
def folder(tmp_path):
    (tmp_path / "a.abc").write_bytes(b"strings")
    (tmp_path / "b.abc").write_bytes(ABC + b"\n" + ABC.replace(b"Ford", b"Mill"))
    (tmp_path / "c.xml").write_bytes(DUO)
    (tmp_path / "d.abc").write_bytes(ABC)
    return tmp_path


def test_a_file_that_cannot_be_read_is_named_and_the_others_are_read(folder):
    """All tunes of a book, and of a score with parts the first."""
    scores, (unread,) = tunes_of([folder], None)
    assert [score.title or score.part for score in scores] == ["Ford", "Mill", "Flute", "Ford"]
    assert (unread.path.name, tell(unread.fault)[:30]) == ("a.abc", "a.abc: is not a music file we ")


def test_of_one_score_alone_it_is_asked_which_part_is_meant(folder):
    scores, (unread,) = tunes_of([folder / "c.xml"], None)
    assert not scores
    assert "Flute" in tell(unread.fault)


def test_what_is_not_there_is_named_too(folder):
    scores, unread = tunes_of([folder / "nowhere.abc", folder / "d.abc"], None)
    assert len(scores) == 1
    assert [one.path.name for one in unread] == ["nowhere.abc"]


def test_many_files_are_told_in_their_order_however_many_processes_read_them(tmp_path, monkeypatch):
    """Those that take long come first, and one among them is none."""
    monkeypatch.setattr("game.commands.tunes_of_files.os.cpu_count", lambda: 3)
    names = [f"{number:02}.abc" for number in range(25)]
    for number, name in enumerate(names):
        title = b"T:%d" % number
        (tmp_path / name).write_bytes(ABC.replace(b"T:Ford", title).replace(b"FGAB|", b"FGAB|" * (200 - 8 * number)))
    (tmp_path / names[3]).write_bytes(b"strings")
    heard = []
    scores, (unread,) = tunes_of([tmp_path], None, lambda number, count: heard.append((number, count)))
    assert [score.title for score in scores] == [str(number) for number in range(25) if number != 3]
    assert unread.path.name == names[3]
    assert heard == [(number, 25) for number in range(1, 27)]


@pytest.fixture
def shelved(folder):
    """The library holds all of the folder, each tune marked there so that it is seen to come from there."""
    with Adder() as adder:
        entries = [one.entry for name in ("b.abc", "c.xml", "d.abc") for one in adder.added(folder / name)]
    for entry in entries:
        marked = replace(open_entry(entry), title=f"{entry.title} of the shelf")
        (library_folder() / f"{entry.name}.tune.json").write_bytes(pack(marked))
    return entries


def titles(paths, read=None):
    scores, unread = tunes_of(paths, read)
    return [score.title for score in scores], [one.path.name for one in unread]


@pytest.mark.usefixtures("shelved")
def test_what_the_library_holds_is_found_by_what_the_file_holds_whatever_it_is_called(folder):
    (folder / "d.abc").rename(folder / "e.of-another-name.abc")
    (folder / "c.xml").rename(folder / "b.xml")
    found, unread = titles([folder])
    assert all(title.endswith("of the shelf") for title in found)
    assert len(found) == 4
    assert unread == ["a.abc"]


def test_a_file_that_changed_a_damaged_tune_and_another_octave_are_read(folder, shelved):
    """Of a book whose second tune is damaged in the library the first comes from there all the same."""
    (folder / "d.abc").write_bytes(ABC.replace(b"FGAB", b"FGAd"))
    (library_folder() / f"{shelved[1].name}.tune.json").write_bytes(b"{")
    found, _ = titles([folder])
    assert [title.endswith("of the shelf") for title in found] == [True, False, True, False]
    found, _ = titles([folder], Reading.CONCERT)
    assert not any(title.endswith("of the shelf") for title in found)


def test_it_is_told_which_file_of_how_many_is_read_and_when_all_are(folder):
    told = []
    tunes_of([folder], None, lambda *numbers: told.append(numbers))
    assert told == [(1, 4), (2, 4), (3, 4), (4, 4), (5, 4)]


def test_a_file_that_ends_its_reader_costs_that_file_only(folder, monkeypatch):
    """As one does that wants all memory there is: the child dies whenever it is asked for it."""
    asked = reading_process.ReadingProcess._asked_once

    def dies_of(process, request):
        if (folder / "b.abc").as_posix().encode().hex().encode() in request:
            process._running().kill()
        return asked(process, request)

    monkeypatch.setattr(reading_process.ReadingProcess, "_asked_once", dies_of)
    found, unread = titles([folder])
    assert len(found) == 2
    assert unread == ["a.abc", "b.abc"]
