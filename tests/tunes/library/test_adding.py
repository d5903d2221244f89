"""Many files into the library: folders, books of tunes, scores of parts, and faults among them."""

import pytest

from game.errors import TuneError
from game.text.catalogue import tell
from game.tunes.library import adding
from game.tunes.library.adding import Adder, files_in
from game.tunes.library.import_results import Added, NotAdded
from game.tunes.library.library import shelf
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts, score
from tests.tunes.made_midi import midi_bytes, steps

BAR = "".join(note(name) for name in ("C4", "D4", "E4", "C5"))
ABC = b"X:1\nT:Ford\nM:4/4\nL:1/4\nK:F\nFGAB|\n"


@pytest.fixture
def home(tmp_path):
    return tmp_path / "library"


def own(home):
    return [entry for entry in shelf(home) if not entry.shipped]


def test_files_of_all_kinds_are_added_in_one_process_and_a_fault_ends_its_own_file_only(tmp_path, home):
    """MusicXML, ABC and MIDI, and something else among them."""
    contents = {"a.xml": score(BAR), "b.abc": ABC, "c.txt": b"strings", "d.mid": midi_bytes(steps(1, 1, 1, 1))}
    for name, content in contents.items():
        (tmp_path / name).write_bytes(content)
    with Adder(folder=home) as adder:
        came = [one for name in contents for one in adder.added(tmp_path / name)]
        pid = adder._process._process.pid
        assert [isinstance(one, Added) for one in came] == [True, True, False, True]
        assert "c.txt: is not a music file we know" in tell(came[2].fault)
        list(adder.added(tmp_path / "a.xml"))
        assert adder._process._process.pid == pid
    assert len(own(home)) == 3


def test_of_a_book_every_tune_is_added_with_one_copy_of_the_original(tmp_path, home):
    """Hard links, where the system has them."""
    book = tmp_path / "book.abc"
    book.write_bytes(ABC + b"\n" + ABC.replace(b"Ford", b"Mill").replace(b"FGAB", b"BAGF"))
    with Adder(folder=home, asks=True) as adder:
        came = list(adder.added(book))
    assert [one.entry.title for one in came] == ["Ford", "Mill"]
    originals = [home / f"{one.entry.name}.original" for one in came]
    assert [path.read_bytes() for path in originals] == [book.read_bytes()] * 2
    assert originals[0].stat().st_ino == originals[1].stat().st_ino


def test_of_parts_the_first_is_read_and_said_or_the_caller_is_asked(tmp_path, home):
    """Many files at once cannot each be asked about."""
    duo = tmp_path / "duo.xml"
    duo.write_bytes(parts(("Flute", measure(ATTRIBUTES + BAR)), ("Bass", measure(ATTRIBUTES + BAR))))
    with Adder(folder=home) as adder:
        (one,) = adder.added(duo)
    assert one.entry.part == "Flute"
    assert tell(one.note) == "duo.xml: of 2 parts the first, Flute, was read."
    with Adder(folder=home, asks=True) as adder:
        (asked,) = adder.added(duo)
        assert (isinstance(asked, NotAdded), asked.names) == (True, ("Flute", "Bass"))
        (chosen,) = adder.added(duo, 2)
    assert chosen.entry.part == "Bass"


def test_a_reading_process_that_was_ended_is_replaced(tmp_path, home):
    """One hostile file does not keep the next from being read."""
    path = tmp_path / "a.xml"
    path.write_bytes(score(BAR))
    with Adder(folder=home) as adder:
        list(adder.added(path))
        adder._process._process.kill()
        adder._process._process.wait()
        (tmp_path / "b.abc").write_bytes(ABC)
        (one,) = adder.added(tmp_path / "b.abc")
    assert one.entry.title == "Ford"


def test_a_full_disk_is_a_fault_of_the_file(tmp_path, home):
    """Where the library's folder cannot be made."""
    (tmp_path / "b.abc").write_bytes(ABC)
    home.write_bytes(b"in the way")
    with Adder(folder=home) as adder:
        (one,) = adder.added(tmp_path / "b.abc")
    assert isinstance(one, NotAdded)
    assert "cannot be kept in the library" in tell(one.fault)


def test_folders_are_opened_in_order_and_hidden_or_other_things_passed_over(tmp_path):
    """Names decide in a folder; what is named by itself is looked at whatever it is called."""
    for name in ("b/2.abc", "b/1.xml", "a/deep/er/x.mid", "a/.hidden.abc", ".git/y.abc", "a/readme.txt", "z.MXL"):
        path = tmp_path / "in" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(b"")
    alone = tmp_path / "notes.txt"
    alone.write_bytes(b"")
    listed = [path.relative_to(tmp_path).as_posix() for path in files_in([tmp_path / "in", alone])]
    assert listed == ["in/z.MXL", "in/a/deep/er/x.mid", "in/b/1.xml", "in/b/2.abc", "notes.txt"]


def test_a_link_to_a_folder_above_is_not_followed(tmp_path):
    """No end of folders."""
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "x.abc").write_bytes(ABC)
    (tmp_path / "a" / "up").symlink_to(tmp_path, target_is_directory=True)
    assert len(files_in([tmp_path])) == 1


def test_a_folder_of_thousands_is_refused_in_a_sentence(tmp_path, monkeypatch):
    """The whole disk by accident."""
    monkeypatch.setattr(adding, "MAX_FILES", 3)
    for number in range(5):
        (tmp_path / f"{number}.abc").write_bytes(b"")
    with refusal(TuneError, "holds more than 3 tune files; choose a folder inside it"):
        files_in([tmp_path])
