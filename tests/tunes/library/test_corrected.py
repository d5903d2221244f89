"""Shipped tunes that were corrected, as they stood before."""

import pytest

from game.music.written import written_out
from game.tunes.library.corrected import as_before, former_forms
from game.tunes.library.library import TUNE_ENDING, add, open_entry, shipped_entries

BY_NAME = {entry.name: entry for entry in shipped_entries()}
CORRECTED = sorted(path.name.removesuffix(TUNE_ENDING) for path in former_forms().iterdir())


def test_nine_melodies_were_corrected_so_far():
    assert [name[:2] for name in CORRECTED] == ["07", "21", "31", "34", "37", "38", "41", "45", "54"]
    assert sum(as_before(entry) is not None for entry in BY_NAME.values()) == len(CORRECTED)


@pytest.mark.parametrize("name", CORRECTED)
def test_a_corrected_tune_has_the_bars_it_had_and_other_notes_in_some(name):
    """Else its pages would not be those of before."""
    before, now = written_out(as_before(BY_NAME[name])), written_out(open_entry(BY_NAME[name]))
    assert [(bar.number, bar.meter, bar.key, bar.length) for bar in before.bars] == [
        (bar.number, bar.meter, bar.key, bar.length) for bar in now.bars
    ]
    assert any(was.notes != is_now.notes for was, is_now in zip(before.bars, now.bars, strict=True))


def test_a_tune_of_the_players_own_was_never_corrected_by_us(tmp_path):
    file = tmp_path / "own.abc"
    file.write_text("X:1\nT:Own\nM:4/4\nL:1/4\nK:C\nCDEF|G4|\n")
    assert as_before(add(file)) is None
