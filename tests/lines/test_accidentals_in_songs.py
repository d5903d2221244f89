"""The notes of a song that leave its key: only to come back, by a semitone."""

from random import Random

import pytest

from game.lines.accidentals_in_songs import TuneNote, is_plain, with_accidentals
from game.lines.degree_chords import DOMINANT, MINOR, Degree, chord_on_degree
from game.lines.levels import LEVELS
from game.lines.line_request import LineRequest
from game.lines.rhythms import RHYTHMS
from game.lines.scale import key_named, scale_of
from game.lines.spots import Spot
from game.music.meter import Meter
from game.music.pitch import pitch
from tests.lines.making import MAP


def altered(level, names, *, chords=None, onsets=(0, 12, 24, 36), ticks=12, chance=0.0, weights=None):
    """The names after accidentals were put in, with a chance that always says `chance`."""

    class Chance(Random):
        def random(self):
            return chance

    scale = scale_of(key_named("Am"), MAP)
    request = LineRequest(
        level=LEVELS[level - 1],
        rhythm=RHYTHMS[0],
        scale=scale,
        meter=Meter(),
        bars=1,
        weights=weights or {},
        fingers={},
    )
    home = chord_on_degree(scale.key, Degree(1, MINOR))
    line = [
        TuneNote(Spot(onset, ticks), pitch(name), chord)
        for onset, name, chord in zip(onsets, names, chords or [home] * len(names), strict=True)
    ]
    return [made.name for made in with_accidentals(request, line, Chance(1))]


def test_the_leading_note_is_raised_where_its_chord_has_it():
    """G♯ before A over E7, but no augmented second from F (trade)."""
    fifth = chord_on_degree(key_named("Am"), Degree(5, DOMINANT))
    assert altered(5, ["F4", "G4", "A4"], chords=[fifth] * 3, onsets=(0, 12, 24), chance=1.0) == ["F4", "G4", "A4"]
    assert altered(5, ["E4", "G4", "A4"], chords=[fifth] * 3, onsets=(0, 12, 24), chance=1.0) == ["E4", "G#4", "A4"]


def test_a_weak_note_beside_its_goal_may_lead_to_it_by_a_semitone():
    assert altered(5, ["B4", "D4", "E4", "A4"]) == ["B4", "D#4", "E4", "A4"]
    assert altered(5, ["B4", "D4", "E4", "A4"], chance=1.0) == ["B4", "D4", "E4", "A4"]


def test_below_the_level_of_accidentals_nothing_is_altered():
    assert altered(4, ["B4", "D4", "E4", "A4"]) == ["B4", "D4", "E4", "A4"]


def test_a_long_note_a_strong_one_and_one_before_a_rest_stay():
    plain = ["B4", "D4", "E4", "A4"]
    assert altered(5, plain, ticks=24, onsets=(0, 24, 48, 72)) == plain
    assert altered(5, plain, onsets=(12, 24, 36, 48)) == ["B4", "D4", "E4", "A4"]
    assert altered(5, plain, onsets=(0, 12, 30, 42)) == plain


@pytest.mark.parametrize(
    ("first", "second", "plain"),
    [
        ("C4", "D4", True), ("C4", "Db4", True), ("C4", "E4", True), ("C4", "F4", True), ("C4", "G4", True),
        ("A4", "C4", True), ("C4", "C5", True), ("F4", "B4", False), ("C4", "D#4", False), ("C4", "B4", False),
        ("C4", "Gb4", False),
    ],
)  # fmt: skip
def test_sevenths_and_altered_intervals_are_not_plain(first, second, plain):
    """Seconds, thirds, perfect fourths and fifths, sixths and the octave are (trade)."""
    assert is_plain(pitch(first), pitch(second)) is plain
    assert is_plain(pitch(second), pitch(first)) is plain
