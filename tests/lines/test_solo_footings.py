"""Where the notes of a line over changes may lie."""

from dataclasses import replace
from random import Random

from game.lines.degree_chords import DOMINANT, MAJOR_SIXTH, MINOR_SEVENTH, Degree, chord_on_degree
from game.lines.levels import LEVELS
from game.lines.solo_footings import chord_at, solo_footings, solo_rules
from game.lines.spots import Spot
from tests.lines.test_returns import REQUEST

KEY = REQUEST.scale.key
TWO, FIVE, ONE = (
    chord_on_degree(KEY, degree) for degree in (Degree(2, MINOR_SEVENTH), Degree(5, DOMINANT), Degree(1, MAJOR_SIXTH))
)
ROWS = ((TWO, FIVE), (ONE,))


def solo_request(level):
    return replace(REQUEST, level=LEVELS[level - 1], bars=2)


def footings(level, *spots):
    return solo_footings(solo_request(level), ROWS, spots, Random(1))


def test_each_onset_has_the_chord_of_its_half_bar():
    assert [chord_at(ROWS, onset, 48) for onset in (-6, 0, 18, 24, 48, 90, 200)] == [TWO, TWO, TWO, FIVE, ONE, ONE, ONE]


def test_a_note_held_over_the_beat_belongs_to_the_chord_ahead():
    short, held, _ = footings(7, Spot(18, 6), Spot(42, 12), Spot(60, 12))
    assert held.place == "strong"
    assert held.tones == {5, 9, 0, 2}
    assert short.tones == {7, 10, 2, 5}


def test_chord_tones_weigh_more_on_strong_beats_at_the_first_level_than_at_the_last():
    def share(level):
        first, _ = footings(level, Spot(0, 6), Spot(48, 12))
        tones = sum(weight for midi, weight in first.pitches.items() if midi % 12 in first.tones)
        return tones / sum(first.pitches.values())

    assert share(6) > share(7) > share(8)


def test_a_line_ends_on_a_tone_of_its_chord_or_the_ninth():
    *_, last = footings(8, Spot(0, 6), Spot(48, 12))
    assert {midi % 12 for midi in last.pitches} == {5, 9, 0, 2, 7}


def test_its_moves_are_no_wider_than_an_octave_and_few_are_tritones():
    rules = solo_rules(solo_request(8), Random(1))
    assert rules.reaches(60, 72)
    assert not rules.reaches(60, 73)
    assert 0 < rules.tritones < 1
