"""Voicings: under the melody, clear, and with little movement."""

from dataclasses import replace
from itertools import pairwise, product
from random import Random

import pytest

from game.music import voicing
from game.music.voicing import HIGHEST_CHORD_NOTE, OVER_MELODY, WIDEST, ChordPlace, movement, voiced
from tests.music.made_chords import named, places

CIRCLE = "Cm7 F7 Bbmaj7 Ebmaj7 Am7b5 D7b9 Gm6"


def test_seventh_chords_in_a_row_lead_their_voices_by_step():
    """A cadence of fifths: in handbooks no voice moves by more than a whole tone, and common tones lie still."""
    row = voiced(places(CIRCLE))
    assert all(len(one) == 3 for one in row)
    moves = [abs(a - b) for before, after in pairwise(row) for a, b in zip(before, after, strict=True)]
    assert max(moves) <= 4
    assert sum(moves) / len(moves) < 2


def test_no_other_row_of_voicings_moves_less_at_its_cost():
    """All rows are tried, with the costs of the program."""
    chance = Random(5)
    for _ in range(6):
        row = places(" ".join(chance.choices("C7 Fmaj7 Bm7b5 E7b9 Am6 D9 Gsus4 Db Ab/C".split(), k=3)))
        all_rows = product(*(voicing._options(place) for place in row))
        assert cost(voiced(row), row) == pytest.approx(min(cost(other, row) for other in all_rows))


def cost(row, row_of_places) -> float:
    steps = sum(movement(before, after) for before, after in pairwise(row))
    return steps + sum(voicing._cost(one, place) for one, place in zip(row, row_of_places, strict=True))


def test_a_chord_is_below_the_melody_above_the_bass_and_of_its_own_tones_wherever_these_lie():
    chance = Random(1)
    row = [
        ChordPlace(telling=one.telling, bass=one.bass, melody=chance.choice([None, *range(40, 80)]))
        for one in places(" ".join(chance.choices([*CIRCLE.split(), "C/E", "F#13", "B7#9", "E5"], k=400)))
    ]
    for place, notes in zip(row, voiced(row), strict=True):
        assert list(notes) == sorted(set(notes))
        assert {note % 12 for note in notes} <= set(place.telling)
        assert all(place.bass + 3 <= note < (place.melody or 128) for note in notes)


def test_where_a_low_melody_leaves_no_room_the_most_telling_tones_are_left():
    for melody, fewest, most in ((67, 3, 3), (50, 1, 3), (46, 0, 2), (41, 0, 0)):
        sizes = [len(one) for one in voiced(places(CIRCLE, melody=melody))]
        assert fewest <= min(sizes) <= max(sizes) <= most, melody
    assert named(voiced(places("Cm7", melody=52))[0]) == "G Bb Eb"
    assert named(voiced(places("Cm7", melody=48))[0]) == "G Bb", "the seventh, where the third has no room"


def around(row: str, melody: int, highest: int | None = None) -> list[tuple[ChordPlace, tuple[int, ...]]]:
    """Chords with a melody that they may lie over."""
    row_of_places = [replace(one, highest=highest or melody) for one in places(row, melody=melody)]
    return list(zip(row_of_places, voiced(row_of_places), strict=True))


def test_where_two_voices_have_no_room_below_all_lie_around_or_above_and_clear_of_the_melody():
    for melody in range(36, 48):
        for place, notes in around(CIRCLE, melody):
            assert len(notes) == len(place.telling), melody
            assert not any(melody <= note < melody + OVER_MELODY for note in notes)
            assert notes[-1] - notes[0] <= WIDEST
            assert notes[-1] <= HIGHEST_CHORD_NOTE


def test_as_long_as_three_voices_have_room_below_the_chord_stays_there():
    for place, notes in around(CIRCLE, 60):
        assert not place.is_over_melody(notes)
        assert notes[-1] < 60


def test_a_melody_that_leaps_while_a_chord_sounds_has_it_below_as_well_as_may_be():
    for _, notes in around(CIRCLE, 46, highest=66):
        assert len(notes) <= 2
        assert all(note < 46 for note in notes)


def test_a_chord_held_lies_still_and_an_empty_row_has_no_voicings():
    assert len(set(voiced(places("G7 G7 G7 G7")))) == 1
    assert voiced([]) == ()
    assert voiced([ChordPlace(telling=(), bass=36, melody=None)]) == ((),)


def test_close_intervals_lie_no_lower_than_they_can_be_told_apart():
    """Thirds from G2 up, seconds from B2."""
    for one in voiced(places("C E7 Am F Dm G13 Cmaj7 Gm7 Ab6 Db9", melody=60)):
        assert all(lower >= (47 if upper - lower < 3 else 43) for lower, upper in pairwise(one) if upper - lower < 4)
