"""Which chord is in force when."""

from game.audio.chord_spans import chord_in_force, chord_spans
from tests.audio.lead_sheets import chord, sheet
from tests.music.made_chords import named


def spans(*bars, before=None) -> str:
    return ", ".join(f"{one.start}-{one.stop} {named((one.tones.root,))}" for one in chord_spans(bars, before=before))


def test_a_chord_holds_until_the_next_symbol_over_bars_without_any():
    assert spans(sheet("G4 w", "C 0"), sheet("G4 w"), sheet("G4 w", "F 0, G7 5/2")) == "0-8 C, 8-21/2 F, 21/2-12 G"


def test_nothing_stands_before_the_first_symbol_nor_under_nc():
    assert spans(sheet("G4 w"), sheet("G4 w", "C 0, N.C. 2"), sheet("G4 w", "F 1")) == "4-6 C, 9-12 F"


def test_a_symbol_repeated_goes_on_and_one_that_is_taken_back_at_once_is_not_heard():
    assert spans(sheet("G4 w", "C 0, C 2"), sheet("G4 w", "C 0, G 4")) == "0-8 C"


def test_the_chord_before_a_passage_holds_where_it_begins_and_nc_before_it_does_not():
    bars = sheet("G4 w", "C 0, Am 2"), sheet("G4 w")
    assert chord_in_force(bars) == chord("Am", "2")
    assert chord_in_force(bars[1:]) is None
    assert spans(sheet("G4 w", "D 2"), before=chord_in_force(bars)) == "0-2 A, 2-4 D"
    assert spans(sheet("G4 w", "D 0"), before=chord("Am")) == "0-4 D"
    assert spans(sheet("G4 w"), before=chord("N.C.")) == ""
