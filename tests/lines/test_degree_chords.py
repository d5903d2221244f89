"""Chords by the degrees of a key: spelled as theory has them, each with its scale."""

from random import Random

from game.lines.changes import changes
from game.lines.degree_chords import DOMINANT, Degree, chord_on_degree, scale_over
from game.lines.scale import scale_of
from game.music.keys import Key
from tests.lines.making import ALL_KEYS, MAP, tones_of


def test_chords_are_spelled_as_music21_spells_them():
    """music21 (PyPI) builds the same pitches from the root and kind we write into MusicXML."""
    from music21.harmony import ChordSymbol

    checked = set()
    for key in ALL_KEYS:
        for seed in range(6):
            for row in changes(scale_of(key, MAP), 12, Random(seed)):
                for chord in row:
                    symbol = chord.symbol(0)
                    if symbol.text not in checked:
                        checked.add(symbol.text)
                        built = ChordSymbol(root=symbol.root.replace("b", "-"), kind=symbol.kind)
                        names = {pitch.name.replace("-", "b") for pitch in built.pitches}
                        ours = {letter + {-1: "b", 0: "", 1: "#"}[alter] for letter, alter in chord.spelling}
                        assert names == ours, symbol.text
                        assert set(tones_of(symbol)) == set(chord.spelling)
    assert len(checked) > 60


def test_the_scale_over_a_chord_has_its_tones_in_place_of_those_of_the_key():
    scale = scale_of(Key(-1), MAP)
    rows = changes(scale, 8, Random(0))
    for row in rows:
        for chord in row:
            over = scale_over(scale, chord)
            assert {(p.step, p.alter) for p in over.tones.values()} == set(chord.spelling)
            rest = [p for p in over.by_step.values() if p.step not in chord.letters]
            assert all(p.alter == scale.key.alter_of(p.step) for p in rest)


def test_a_degree_that_would_need_a_double_accidental_has_no_chord():
    from game.lines.degree_chords import DOMINANT, Degree

    assert chord_on_degree(Key(8 - 3, minor=True), Degree(5, DOMINANT)) is None
    assert chord_on_degree(Key(0, minor=True), Degree(5, DOMINANT)).root == "E"


def test_a_chord_stands_above_the_staff_with_its_root_and_kind():
    seventh = chord_on_degree(Key(-1), Degree(5, DOMINANT))
    symbol = seventh.symbol(2)
    assert (symbol.onset, symbol.root, symbol.kind, symbol.text) == (2, "C", "dominant", "C7")
    assert seventh.letters == ("C", "E", "G", "B")


def test_the_chord_tones_on_the_map_are_all_notes_of_the_chord():
    over = scale_over(scale_of(Key(-1), MAP), chord_on_degree(Key(-1), Degree(5, DOMINANT)))
    assert {pitch.step for pitch in over.tones.values()} == {"C", "E", "G", "B"}
    assert set(over.tones) < set(over.by_step)
