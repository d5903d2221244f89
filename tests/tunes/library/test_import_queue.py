"""What is dropped on the window: one file, a folder of two hundred, and faults among them."""

import time

import pytest

from game.neck.neck_map import standard_map
from game.tunes.library.import_queue import ImportQueue
from game.tunes.library.library import shelf
from game.tunes.library.shelf_order import ShelfOrder, ordered
from tests.tunes.hand_written import note, score
from tests.tunes.made_midi import midi_bytes, steps

ABC = "X:1\nT:{title}\nM:4/4\nL:1/{unit}\nK:{key}\n{music}\n"
LETTERS = "DEFGABcdef"


def abc(number: int) -> bytes:
    """Another tune for each number, from quarters in steps to eighths in leaps with accidentals."""
    unit = 4 if number % 3 else 8
    row = [LETTERS[(number * 7 + place * (1 + number % 4)) % len(LETTERS)] for place in range(unit * 2)]
    if number % 5 == 0:
        row[1::2] = [f"^{letter}" for letter in row[1::2]]
    return ABC.format(title=f"Tune {number}", unit=unit, key="FGCD"[number % 4], music="".join(row)).encode()


def musicxml(number: int) -> bytes:
    names = [f"{'CDEFGAB'[(number + place * 3) % 7]}{4 + number % 2}" for place in range(4)]
    head = f"<movement-title>Sheet {number}</movement-title>"
    return score("".join(note(name) for name in names), head=head)


def midi(number: int) -> bytes:
    return midi_bytes(steps(*[0.5, 1, 0.5, 2] * 2, first=45 + number % 12), names=[f"Played {number}"])


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


def settled(arrivals: ImportQueue) -> list[str]:
    """Everything that is said until all is read."""
    said = []
    ends = time.monotonic() + 120
    while arrivals.busy:
        assert time.monotonic() < ends, "the files were never read"
        sentence = arrivals.poll()
        if sentence:
            said.append(sentence)
        time.sleep(0.002)
    return said


def test_a_folder_of_two_hundred_files_comes_on_the_shelf_and_is_found_by_what_to_read_next(folder):
    """Each good file is there, each broken one was passed over, progress was told, and the easiest stands first."""
    arrivals = ImportQueue()
    assert arrivals.drop(folder) == "Reading tunes …"
    said = settled(arrivals)
    progress = [sentence for sentence in said if sentence.startswith("Reading ")]
    assert len(progress) > 20
    assert all(" of 200: " in sentence for sentence in progress)
    assert said[-1].startswith("180 tunes are on the shelf. Not read: 20. ")
    own = [entry for entry in shelf() if not entry.shipped]
    assert len(own) == len(arrivals.last.entries) == 180
    assert (arrivals.last.files, arrivals.last.refused, arrivals.last.several) == (200, 20, True)
    neck_map = standard_map()
    first = ordered(own, ShelfOrder.NEXT, neck_map)
    assert len(first) == 180
    assert first[0].density <= 1
    assert first[0].chromatic == 0
    assert first[-1].chromatic > 0 or first[-1].highest > 73 or first[-1].lowest < 44


def test_reading_goes_on_beside_whoever_asks(folder):
    """Between two looks nothing waits: most looks find nothing new."""
    arrivals = ImportQueue()
    arrivals.drop(folder / "folder 0" / "000.abc")
    looks = 0
    while arrivals.busy:
        arrivals.poll()
        looks += 1
        time.sleep(0.001)
    assert looks > 3
    assert arrivals.newest.title == "Tune 0"
    assert not arrivals.last.several


def test_files_dropped_at_once_are_one_dropping_and_later_ones_another(folder):
    """The window gives each file of a dropping by itself."""
    arrivals = ImportQueue()
    files = sorted((folder / "folder 1").glob("*.abc"))[:3]
    for path in files:
        arrivals.drop(path)
    arrivals.poll()
    arrivals.drop(folder / "folder 2" / "006.abc")
    said = settled(arrivals)
    assert any(sentence.startswith("3 tunes are on the shelf") for sentence in said)
    assert said[-1] == "Tune 6 is on the shelf."


def test_a_book_of_tunes_comes_on_the_shelf_whole_and_a_fault_beside_it_is_told(tmp_path):
    """Several tunes in one file; with a broken file, how many were not read and why the first was not."""
    book = tmp_path / "book.abc"
    book.write_bytes(abc(1) + b"\n" + abc(2))
    arrivals = ImportQueue()
    arrivals.drop(book)
    assert settled(arrivals)[-1] == "2 tunes are on the shelf."
    assert (arrivals.last.files, arrivals.last.several) == (1, True)
    (tmp_path / "bad.abc").write_bytes(b"strings")
    (tmp_path / "good.abc").write_bytes(abc(3))
    for name in ("bad.abc", "good.abc"):
        arrivals.drop(tmp_path / name)
    assert settled(arrivals)[-1].startswith("Tune 3 is on the shelf. Not read: 1. bad.abc: is not a music file we know")


def test_an_empty_folder_and_a_broken_file_are_said(tmp_path):
    """One sentence each."""
    (tmp_path / "nothing").mkdir()
    arrivals = ImportQueue()
    arrivals.drop(tmp_path / "nothing")
    assert settled(arrivals) == ["There is no tune in that folder. Drop one with MusicXML, ABC or MIDI files."]
    (tmp_path / "x.abc").write_bytes(b"strings")
    arrivals.drop(tmp_path / "x.abc")
    (said,) = settled(arrivals)
    assert said.startswith("x.abc: is not a music file we know")
    assert arrivals.newest is None
