"""What pitches a note may have."""

import pytest

from game.lines.degree_chords import DOMINANT, MAJOR, MAJOR_SIXTH, Degree, chord_on_degree
from game.lines.footing import clashes_with, colours_of, degree_weights, nearness, place_of, root_of, tones_in
from game.lines.line_weights import Idiom
from game.lines.scale import key_named, scale_of
from game.music.meter import Meter
from tests.lines.making import MAP

F = scale_of(key_named("F"), MAP)
F_CHORD = chord_on_degree(F.key, Degree(1, MAJOR))
C7 = chord_on_degree(F.key, Degree(5, DOMINANT))


@pytest.mark.parametrize(
    ("meter", "places"),
    [
        (Meter(), {0: "strong", 12: "beat", 24: "strong", 36: "beat", 6: "off", -6: "off", -12: "beat", 16: "off"}),
        (Meter(3, 4), {0: "strong", 12: "beat", 24: "beat", 30: "off", -12: "beat"}),
        (Meter(6, 8), {0: "strong", 18: "beat", 6: "off", 12: "off", 36: "strong"}),
    ],
)
def test_a_note_stands_on_a_strong_beat_another_one_or_off_it(meter, places):
    assert {onset: place_of(onset, meter) for onset in places} == places


def test_tones_weigh_more_than_what_lies_between_them():
    weights = degree_weights(Idiom.LEAD, F_CHORD, "strong")
    assert min(weights[tone] for tone in (5, 9, 0)) > 3 * max(weights[other] for other in (6, 8, 10, 1))


def test_a_chord_has_its_root_its_tones_and_what_grates_against_it():
    """The fourth over a major chord, the fourth and the major seventh over a dominant (trade)."""
    assert (root_of(C7), tones_in(C7)) == (0, {0, 4, 7, 10})
    assert 10 in clashes_with(F_CHORD)
    assert not clashes_with(F_CHORD) & tones_in(F_CHORD)
    assert clashes_with(C7) == {5, 11}


def test_a_dominant_is_coloured_by_flat_nine_sharp_nine_and_flat_thirteen_spelled_as_flats():
    names = {pitch.name[:-1] for pitch in colours_of(F, C7).values()}
    assert names == {"Db", "Eb", "Ab"}
    tonic = chord_on_degree(F.key, Degree(1, MAJOR_SIXTH))
    assert {pitch.name[:-1] for pitch in colours_of(F, tonic).values()} == {"Ab"}


def test_what_is_nearer_is_likelier():
    assert nearness(0, 5.0) == 1.0
    assert nearness(-3, 5.0) == nearness(3, 5.0) > nearness(4, 5.0)
