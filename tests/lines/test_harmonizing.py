"""Chords found for a melody."""

from game.lines.degree_chords import MAJOR, MINOR, Degree, chord_on_degree
from game.lines.harmonizing import Heard, harmonized
from game.lines.scale import key_named

C = key_named("C")
CHORDS = {
    degree: chord_on_degree(C, Degree(degree, MINOR if degree in (2, 6) else MAJOR)) for degree in (1, 2, 4, 5, 6)
}


def found(*bars, inside=None):
    spans = [[Heard(pitch_class, "strong") for pitch_class in bar] for bar in bars]
    return [chord.root for chord in harmonized(spans, inside or [False] * len(bars), CHORDS)]


def test_each_bar_has_the_chord_that_holds_its_notes_and_the_last_is_home():
    assert found((0, 4, 7), (5, 9), (7, 11, 2), (0,)) == ["C", "F", "G", "C"]
    assert found((0,), (2,), (2, 7), (9,)) == ["C", "D", "G", "C"]


def test_a_chord_changes_inside_a_bar_only_where_that_gains_much():
    once = [False, True, False, True]
    assert found((0, 4), (7, 9), (7, 2), (0, 4), inside=once)[1] == "C"
    assert found((0, 4), (5, 9, 5), (7, 2), (0, 4), inside=once)[1] == "F"


def test_no_chord_but_the_first_degree_stays_for_more_than_two_bars():
    """Notes that G holds, and C and F less well: where G stood twice one of these comes between."""
    roots = found((0, 4), *[(7, 11, 2)] * 2, *[(7, 2)] * 3, (0,))
    assert roots[1:3] == ["G", "G"]
    assert all(set(roots[at : at + 3]) != {"G"} for at in range(len(roots) - 2))


def test_silence_takes_the_chord_that_leads_best():
    assert found((0, 4), (), (0,)) == ["C", "G", "C"]
