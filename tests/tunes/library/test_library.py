"""The shelf: adding, finding and opening tunes, and what happens when the disk or a file goes bad."""

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import msgspec
import pytest

from game.errors import SeveralPartsError, TuneError
from game.message import verbatim
from game.music.score import BarMarks, OrderDoubt, Reading
from game.text.catalogue import in_english
from game.tunes.library import library
from game.tunes.library.library import (
    add,
    keep_order,
    keep_variant,
    open_entry,
    shelf,
    shipped_entries,
    with_pairs,
    withdraw,
)
from game.tunes.read_tune import read_tune
from tests.refusing import refusal
from tests.tunes.hand_written import ATTRIBUTES, measure, note, parts, score

TITLED = "<movement-title>Blue Door</movement-title>"
BAR = "".join(note(name) for name in ("C4", "D4", "E4", "C5"))


@pytest.fixture
def tune(tmp_path) -> Path:
    path = tmp_path / "blue door.musicxml"
    path.write_bytes(score(BAR, head=TITLED))
    return path


@pytest.fixture
def folder(tmp_path) -> Path:
    return tmp_path / "library"


def own(folder):
    return [entry for entry in shelf(folder) if not entry.shipped]


def test_a_tune_added_is_on_the_shelf_and_opens_as_it_was_read(tune, folder):
    """With what the shelf shows of it."""
    entry = add(tune, folder=folder)
    assert own(folder) == [entry]
    assert (entry.title, entry.key, entry.meter, entry.bars, entry.notes) == ("Blue Door", "C", "4/4", 1, 4)
    assert (entry.lowest, entry.highest) == (48, 60)
    assert (entry.file_name, entry.provenance) == ("blue door.musicxml", "")
    assert open_entry(entry, folder) == read_tune(tune)


def test_the_original_is_kept_beside_it(tune, folder):
    """Byte for byte."""
    entry = add(tune, folder=folder)
    assert (folder / f"{entry.name}.original").read_bytes() == tune.read_bytes()


def test_a_file_added_twice_is_one_tune(tune, folder):
    """Nothing is doubled and nothing is lost, not under another name either."""
    first = add(tune, folder=folder)
    renamed = tune.with_name("other.xml")
    renamed.write_bytes(tune.read_bytes())
    assert add(renamed, folder=folder).name == first.name
    assert own(folder) == [first]
    assert len(list(folder.iterdir())) == 3


def test_the_same_file_read_at_another_octave_or_part_is_another_tune(tmp_path, folder):
    """The choice belongs to the tune."""
    path = tmp_path / "two.xml"
    path.write_bytes(parts(("A", measure(ATTRIBUTES + BAR)), ("B", measure(ATTRIBUTES + BAR))))
    with pytest.raises(SeveralPartsError):
        add(path, folder=folder)
    for choice in ({"part": 1}, {"part": 2}, {"part": 1, "read": Reading.CONCERT}):
        add(path, folder=folder, **choice)
    assert len(own(folder)) == 3


def test_a_bad_file_leaves_the_library_as_it_was(tune, folder, tmp_path):
    """Refused before anything is written."""
    add(tune, folder=folder)
    before = sorted(folder.iterdir())
    bad = tmp_path / "bad.xml"
    bad.write_bytes(b"<score-partwise/>")
    with pytest.raises(TuneError):
        add(bad, folder=folder)
    assert sorted(folder.iterdir()) == before


def test_a_full_disk_is_said_and_leaves_no_half_tune(tune, folder, monkeypatch):
    """What cannot be written whole is not there at all."""

    def full(_descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with refusal(TuneError, r"cannot be kept in the library .*make room on the disk"):
        add(tune, folder=folder)
    assert own(folder) == []
    assert list(folder.iterdir()) == []


def test_a_lost_entry_is_made_again_from_its_tune(tune, folder):
    """The compact form is enough."""
    entry = add(tune, folder=folder)
    (folder / f"{entry.name}.entry.json").write_bytes(b"{")
    (again,) = own(folder)
    assert (again.title, again.notes) == (entry.title, entry.notes)


def test_an_entry_of_an_older_program_is_made_again_and_kept(tune, folder):
    """What the shelf sorts by is worked out from the tune; what the entry said of its origin stays."""
    entry = add(tune, folder=folder)
    path = folder / f"{entry.name}.entry.json"
    old = msgspec.json.decode(path.read_bytes())
    for added_since in (
        "form",
        "difficulty",
        "density",
        "chromatic",
        "counts",
        "reading",
        "sound_fixed",
        "kind",
        "beside",
    ):
        del old[added_since]
    path.write_bytes(msgspec.json.encode(old | {"provenance": "A gift."}))
    assert own(folder) == [replace(entry, provenance="A gift.")]
    assert msgspec.json.decode(path.read_bytes())["difficulty"] == entry.difficulty > 0


def test_a_damaged_tune_is_left_off_the_shelf_and_left_alone(tune, folder):
    """Both files damaged: the others are still there."""
    entry = add(tune, folder=folder)
    for ending in (".entry.json", ".tune.json"):
        (folder / f"{entry.name}{ending}").write_bytes(b"\x00")
    assert own(folder) == []
    assert (folder / f"{entry.name}.original").exists()
    with refusal(TuneError, "is damaged"):
        open_entry(entry, folder)


def test_a_tune_whose_file_is_gone_is_said(tune, folder):
    """Deleted by hand while the shelf was open."""
    entry = add(tune, folder=folder)
    (folder / f"{entry.name}.tune.json").unlink()
    with refusal(TuneError, "Blue Door: its file in the library cannot be read"):
        open_entry(entry, folder)


def test_the_shelf_opens_without_music21_or_the_reader():
    """The first frame waits for neither."""
    code = (
        "import sys; from game.tunes.library.library import shelf, open_entry; open_entry(shelf()[0]); "
        "sys.exit(any(name in sys.modules for name in ('music21', 'game.tunes.read_tune', 'defusedxml')))"
    )
    root = Path(library.__file__).parents[3]
    assert subprocess.run([sys.executable, "-c", code], cwd=root, check=False).returncode == 0


def test_a_variant_kept_when_sentences_were_text_is_the_same_tune_today(tune, folder):
    """Its name in the library is made of its English words."""
    entry = add(tune, folder=folder)
    today = open_entry(entry, folder)
    before = replace(today, octave_reason=verbatim(in_english(today.octave_reason)))
    kept, _ = keep_variant(entry, before, title="Blue Door, higher", folder=folder)
    assert keep_variant(entry, today, title="Blue Door, higher", folder=folder)[0] == kept
    assert len(own(folder)) == 2


def test_another_order_of_play_is_kept_in_the_place_of_the_tune(tune, folder):
    """Its title and where it is from stay; only what is played is another."""
    entry = replace(add(tune, folder=folder), title="Another Door", provenance="Blue Door")
    read = open_entry(entry, folder)
    twice = replace(read, bars=tuple(replace(bar, marks=BarMarks(repeat_end=2)) for bar in read.bars))
    now = keep_order(entry, twice, folder=folder)
    assert own(folder) == [now] == [replace(entry, plays=2)]
    assert open_entry(now, folder) == twice


def test_a_choice_of_order_is_kept_as_a_mark_of_its_bar(tune, folder):
    entry = add(tune, folder=folder)
    read = open_entry(entry, folder)
    marks = BarMarks(repeat_end=2, read_otherwise=(OrderDoubt.GAP, OrderDoubt.SHORT_BRACKET))
    chosen = replace(read, bars=tuple(replace(bar, marks=marks) for bar in read.bars))
    assert open_entry(keep_order(entry, chosen, folder=folder), folder) == chosen


def test_a_tune_that_is_withdrawn_is_gone_from_the_shelf_and_one_that_is_not_there_is_not_missed(tmp_path):
    entry, _ = keep_variant(shipped_entries()[0], open_entry(shipped_entries()[0]), title="Mine", folder=tmp_path)
    assert entry in shelf(tmp_path)
    for _ in range(2):
        withdraw(entry.name, folder=tmp_path)
        assert entry not in shelf(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_an_entry_without_pairs_gets_them_once_and_keeps_them(tune, folder):
    entry = add(tune, folder=folder)
    (folder / f"{entry.name}.entry.json").write_bytes(msgspec.json.encode(replace(entry, pairs="")))
    (older,) = [one for one in shelf(folder) if not one.shipped]
    assert older.pairs == ""
    assert with_pairs(older, folder) == entry
    (again,) = [one for one in shelf(folder) if not one.shipped]
    assert again == entry
    (folder / f"{entry.name}.tune.json").unlink()
    assert with_pairs(older, folder) == older
