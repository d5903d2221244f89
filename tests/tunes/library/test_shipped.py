"""The tunes we ship: their compact forms are up to date, and position V holds them."""

from itertools import groupby

import pytest

from game.music.tune_kind import TuneKind
from game.music.written import written_notes, written_out
from game.neck.neck_map import standard_map
from game.paths import shipped
from game.tunes.library.library import open_entry, shipped_entries
from game.tunes.library.shipped import made_files
from game.tunes.library.tune_readiness import tune_readiness
from tests.sampling import only_where_all_is_run

ENTRIES = shipped_entries()


@only_where_all_is_run("every shipped tune, read anew")
def test_the_compact_forms_are_what_the_reader_gives_today():
    """If not: run `python -m game.tunes.library.shipped` and commit."""
    folder = shipped("content", "tunes")
    made = dict(made_files(folder))
    assert set(made) == set(folder.glob("*.json"))
    assert [path.name for path, content in made.items() if path.read_bytes() != content] == []


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_every_note_of_a_shipped_tune_has_its_home_in_position_five(entry):
    """Written A♭3 to C♯6, sounding 44 to 73 (check-values: position V with stretches; trade, calc)."""
    score = open_entry(entry)
    soundings = [note.sounding for note in written_notes(written_out(score).bars, score.reading)]
    neck_map = standard_map()
    assert all(neck_map.home_of(sounding) for sounding in soundings)
    assert 44 <= entry.lowest == min(soundings)
    assert max(soundings) == entry.highest <= 73


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: entry.name)
def test_a_shipped_tune_is_complete(entry):
    """Title, origin, chords, no warnings, and every bar but a pickup and its counterpart is full."""
    score = open_entry(entry)
    assert entry.title
    assert entry.composer
    assert entry.provenance.endswith("CC0.")
    assert not score.warnings
    assert any(bar.chords for bar in score.bars)
    assert all(bar.length == bar.meter.bar_length for bar in score.bars[1:])
    assert entry.name in shipped("content", "tunes", "PROVENANCE.md").read_text(encoding="utf-8")


def test_the_shelf_has_the_keys_and_metres_to_begin_with():
    """F, B♭ and C need the fewest stretches; one tune in 3/4, one in 6/8, one of 32 bars and its pickup."""
    assert {"F", "Bb", "C", "Dm", "G"} <= {entry.key for entry in ENTRIES}
    assert {"4/4", "3/4", "6/8"} <= {entry.meter for entry in ENTRIES}
    assert any(entry.bars == 33 for entry in ENTRIES)


def test_the_washerwoman_is_played_with_its_repeats_and_endings():
    """Both halves twice: 2 x 8 and 2 x 8 bars after the pickup."""
    (entry,) = (entry for entry in ENTRIES if "washerwoman" in entry.name)
    assert entry.plays == 1 + 16 + 16


def test_the_book_goes_by_difficulty_with_songs_and_lead_sheets_among_each_other():
    """On the map everybody begins with; differences under half a point mean nothing."""
    book = [entry for entry in ENTRIES if not entry.retired]
    assert [entry.retired for entry in ENTRIES] == sorted(entry.retired for entry in ENTRIES)
    hard = [tune_readiness(entry, standard_map()).difficulty for entry in book if entry.kind is not TuneKind.STUDY]
    assert hard == sorted(hard)
    kinds = [entry.kind for entry in book]
    assert TuneKind.LEAD_SHEET in kinds[:12]
    assert max(len(list(row)) for kind, row in groupby(kinds) if kind is TuneKind.STUDY) <= 3


def test_a_lead_sheet_is_what_has_sections_and_a_feel_and_a_study_says_so():
    kinds = {entry.name: entry.kind for entry in ENTRIES}
    heads = {name for name, kind in kinds.items() if kind is TuneKind.LEAD_SHEET}
    numbers = {int(name.partition("-")[0]) for name in heads}
    assert numbers == {*range(66, 90), 102, 103, 104}
    assert {name for name, kind in kinds.items() if kind is TuneKind.STUDY} == {
        name for name in kinds if "-study-" in name
    }


def test_every_study_stands_after_the_lead_sheet_in_which_its_thing_comes_up():
    places = {entry.name: place for place, entry in enumerate(ENTRIES)}
    studies = [entry for entry in ENTRIES if entry.kind is TuneKind.STUDY and not entry.retired]
    assert all(places[entry.beside] < places[entry.name] for entry in studies)
    assert len({entry.beside for entry in studies}) == len(studies)
    assert all(ENTRIES[places[entry.beside]].kind is TuneKind.LEAD_SHEET for entry in studies)
