"""Many files into the library: folders, books of tunes, scores of parts, and faults among them."""

import os
import socket
from pathlib import Path

import pytest

from game.text.catalogue import tell
from game.tunes.library import adding
from game.tunes.library.adding import Adder, files_in
from game.tunes.library.import_results import Added, NotAdded
from game.tunes.library.library import shelf
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
    listed = [path.relative_to(tmp_path).as_posix() for path in files_in([tmp_path / "in", alone]).files]
    assert listed == ["in/z.MXL", "in/a/deep/er/x.mid", "in/b/1.xml", "in/b/2.abc", "notes.txt"]


def test_a_link_to_a_folder_above_is_not_followed(tmp_path):
    """No end of folders."""
    (tmp_path / "a").mkdir()
    (tmp_path / "a" / "x.abc").write_bytes(ABC)
    (tmp_path / "a" / "up").symlink_to(tmp_path, target_is_directory=True)
    assert len(files_in([tmp_path]).files) == 1


def test_a_folder_of_thousands_is_refused_in_a_sentence(tmp_path, monkeypatch):
    """The whole disk by accident."""
    monkeypatch.setattr(adding, "MAX_FILES", 3)
    for number in range(5):
        (tmp_path / f"{number}.abc").write_bytes(b"")
    alone = tmp_path / "alone"
    alone.mkdir()
    (alone / "x.abc").write_bytes(ABC)
    found = files_in([tmp_path, alone])
    assert "holds more than 3 tune files; choose a folder inside it" in tell(found.faults[0].fault)
    assert found.files == (alone / "x.abc",)


def test_a_disk_is_not_looked_through_to_its_end_when_nobody_waits_for_it(tmp_path):
    for number in range(10):
        (tmp_path / str(number)).mkdir()
        (tmp_path / str(number) / "x.abc").write_bytes(ABC)
    looks = iter([True, True, True, False])
    assert len(files_in([tmp_path], lambda: next(looks)).files) == 2


def test_a_folder_that_cannot_be_looked_into_is_named_and_the_others_are_read(tmp_path, monkeypatch):
    """One that is somebody else's, one that went away while its neighbours were looked through."""
    for name in ("a", "b", "c"):
        (tmp_path / name).mkdir()
        (tmp_path / name / "x.abc").write_bytes(ABC)
    looked = os.scandir

    def scandir(path):
        if Path(path).name == "b":
            raise PermissionError(13, "Permission denied", path)
        return looked(path)

    monkeypatch.setattr(os, "scandir", scandir)
    found = files_in([tmp_path])
    assert [path.parent.name for path in found.files] == ["a", "c"]
    (one,) = found.faults
    assert tell(one.fault).startswith("b: cannot be looked into (Permission denied)")
    monkeypatch.setattr(Path, "is_dir", scandir)
    assert [one.path.name for one in files_in([tmp_path / "b"]).faults] == ["b"]


def odd_names(folder):
    """Names as old archives, other systems and jokers make them; ABC, MusicXML and MIDI under each."""
    return [
        Path(os.fsdecode(os.fsencode(folder) + b"/" + name))
        for name in (
            b"caf\xe9.abc",
            b"\xff\xfe\x80.abc",
            "cafe\N{COMBINING ACUTE ACCENT}.abc".encode(),
            b"two\nlines\tand a bell\x07.abc",
            b"\x1b[31mred\x1b]0;title\x07.abc",
            "\N{RIGHT-TO-LEFT OVERRIDE}cba.abc".encode(),
            "\N{FIRST STRONG ISOLATE}x\N{POP DIRECTIONAL ISOLATE}.abc".encode(),
            b"-x.abc",
            b"--json.abc",
            b"'; drop table tune; --.abc",
            b"http:&&localhost&x.abc",
            b" .abc",
            b"CON.abc",
            b"%s%n{file}{0}.abc",
            b"x" * 250 + b".abc",
        )
    ]


def test_tunes_come_on_the_shelf_whatever_their_files_are_called(tmp_path, home):
    """Each with a name that can be shown; a tune without a title goes by that."""
    folder = tmp_path / "in"
    folder.mkdir()
    untitled = ABC.replace(b"T:Ford\n", b"T:\n")
    for number, path in enumerate(odd_names(folder)):
        path.write_bytes(untitled + b"%" * number + b"\n")
    found = files_in([folder])
    assert len(found.files) == len(odd_names(folder))
    with Adder(folder=home) as adder:
        came = [one for path in found.files for one in adder.added(path)]
    assert all(isinstance(one, Added) for one in came)
    titles = {one.entry.title for one in own_entries(came)}
    assert {"café", "two lines and a bell", "cba", "-x", "--json", "[31mred]0;title"} <= titles
    assert all(title.isprintable() for title in titles)
    assert len(own(home)) == len(came)


def own_entries(came):
    return [one for one in came if isinstance(one, Added)]


def test_files_under_odd_names_that_are_no_tunes_are_named_in_one_line(tmp_path, home):
    for path in odd_names(tmp_path):
        path.write_bytes(b"strings, a capo")
    with Adder(folder=home) as adder:
        came = [one for path in files_in([tmp_path]).files for one in adder.added(path)]
    assert not own_entries(came)
    for one in came:
        assert tell(one.fault).isprintable()
        assert "is not a music file we know" in tell(one.fault)


def test_what_is_no_file_ends_itself_alone(tmp_path, home):
    """A pipe, a device, a socket, a link to itself, a folder with the name of a file, and one that went away."""
    os.mkfifo(tmp_path / "1.abc")
    (tmp_path / "2.abc").symlink_to("/dev/zero")
    with socket.socket(socket.AF_UNIX) as here:
        here.bind(str(tmp_path / "3.abc"))
    (tmp_path / "4.abc").symlink_to("4.abc")
    (tmp_path / "5.abc").mkdir()
    (tmp_path / "7.abc").write_bytes(ABC)
    with Adder(folder=home) as adder:
        came = [one for number in range(1, 8) for one in adder.added(tmp_path / f"{number}.abc")]
    assert [isinstance(one, Added) for one in came] == [False] * 6 + [True]
    said = [tell(one.fault) for one in came[:6]]
    assert [word in one for word, one in zip(("pipe", "device", "socket"), said, strict=False)] == [True] * 3
    assert "there is no such file" in said[4]
    assert "there is no such file" in said[5]


def test_whatever_nobody_foresaw_ends_its_own_file_only(tmp_path, home, monkeypatch):
    """A fault of ours is told with the file that brought it about."""
    for name in ("a.abc", "b.abc"):
        (tmp_path / name).write_bytes(ABC)
    added = adding.add

    def failing(path, **more):
        if path.name == "a.abc":
            raise ZeroDivisionError("nobody\nforesaw this")
        return added(path, **more)

    monkeypatch.setattr(adding, "add", failing)
    with Adder(folder=home) as adder:
        bad, good = [one for name in ("a.abc", "b.abc") for one in adder.added(tmp_path / name)]
    assert tell(bad.fault).startswith("a.abc: could not be put on the shelf (ZeroDivisionError: nobody foresaw this)")
    assert isinstance(good, Added)


def test_a_file_that_changes_between_two_looks_is_kept_as_it_was_read(tmp_path, home):
    """It is opened once for each tune: what is kept beside a tune is what the tune was read from."""
    path = tmp_path / "a.abc"
    path.write_bytes(ABC)
    with Adder(folder=home) as adder:
        (one,) = adder.added(path)
        path.write_bytes(ABC.replace(b"Ford", b"Mill"))
        (other,) = adder.added(path)
    for came, title in ((one, b"Ford"), (other, b"Mill")):
        assert title in (home / f"{came.entry.name}.original").read_bytes()
        assert came.entry.title.encode() == title
