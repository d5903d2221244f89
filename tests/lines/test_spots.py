"""When notes begin, and how long they last."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.lines.rhythms import RHYTHMS
from game.lines.spots import spots_of
from game.music.meter import Meter

ONSETS = st.lists(st.integers(-4, 60).map(lambda at: 6 * at), min_size=1, unique=True).map(sorted)


@given(ONSETS, st.sampled_from(RHYTHMS[3:]), st.sampled_from([Meter(), Meter(3, 4), Meter(6, 8)]), st.integers(0, 9))
def test_notes_and_rests_fill_the_time_without_a_gap(onsets, rhythm, meter, seed):
    end = onsets[-1] + 30
    spots = spots_of(onsets, end, rhythm, meter, Random(seed), short=0.5)
    at = min(0, onsets[0])
    for spot in spots:
        assert spot.onset == at
        at += spot.ticks
    assert at == end
    assert [spot.onset for spot in spots if not spot.rest] == onsets


def struck(onsets, end, rhythm, short=0.0):
    made = spots_of(onsets, end, RHYTHMS[rhythm - 1], Meter(), Random(1), short=short)
    return [(spot.onset, spot.ticks, spot.triplet) for spot in made if not spot.rest]


def test_below_the_level_of_ties_no_note_off_the_beat_sounds_on_over_the_beat():
    assert struck([0, 6, 18, 24], 36, 4) == [(0, 6, None), (6, 6, None), (18, 6, None), (24, 12, None)]


def test_on_that_level_most_do():
    lengths = [spots_of([6, 18], 48, RHYTHMS[4], Meter(), Random(seed), short=0)[1].ticks for seed in range(40)]
    assert 20 < sum(ticks == 12 for ticks in lengths) < 40


def test_triplets_are_marked_and_the_first_third_may_be_a_rest():
    assert struck([0, 4, 8, 12], 24, 6) == [(0, 4, 0), (4, 4, 1), (8, 4, 2), (12, 12, None)]
    made = spots_of([0, 16, 20], 24, RHYTHMS[5], Meter(), Random(1), short=0)
    assert [(spot.onset, spot.ticks, spot.rest, spot.triplet) for spot in made] == [
        (0, 12, False, None), (12, 4, True, 0), (16, 4, False, 1), (20, 4, False, 2),
    ]  # fmt: skip


@pytest.mark.parametrize(("short", "longest"), [(1.0, 12), (0.0, 48)])
def test_a_note_before_silence_is_as_short_as_is_asked(short, longest):
    assert struck([0, 48], 60, 4, short)[0][1] <= longest


def test_what_begins_late_begins_with_a_rest():
    assert spots_of([18], 24, RHYTHMS[3], Meter(), Random(1), short=0)[0].rest
