"""When a take was clean."""

import pytest

from game.coach.tempo.clean_takes import is_beside_the_beat, is_clean, notes_needed, short_of_time
from tests.coach.coach_takes import take


@pytest.mark.parametrize(("asked", "needed"), [(1, 1), (2, 1), (8, 7), (19, 18), (20, 18), (32, 29), (64, 58)])
def test_nine_in_ten_are_needed_and_in_a_short_passage_all_but_one(asked, needed):
    assert notes_needed(asked) == needed


def test_clean_is_right_and_in_time_both():
    assert is_clean(take(3, bpm=80))
    assert is_clean(take(bpm=80, off_time=3))
    assert not is_clean(take(2, bpm=80, off_time=2)), "28 of 32 right and in time"
    assert not is_clean(take(4, bpm=80))


def test_a_note_in_another_place_is_not_held_against_the_tempo():
    assert is_clean(take(9, bpm=80, wrong_notes=frozenset(), other_place_notes=frozenset(range(1, 10))))


def test_what_is_short_is_the_time_where_the_notes_are_right_or_most_are_beside_the_beat():
    assert short_of_time(take(bpm=80, off_time=4))
    assert not short_of_time(take(bpm=80, off_time=3))
    assert not short_of_time(take(8, bpm=80, off_time=4)), "first of all the notes"
    assert short_of_time(take(8, bpm=80, off_time=20))
    assert is_beside_the_beat(take(8, bpm=80, off_time=20))
