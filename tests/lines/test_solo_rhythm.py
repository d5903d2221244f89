"""The rhythm of lines over changes."""

from itertools import pairwise
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from game.lines.manners import SOLO_MANNERS
from game.lines.rhythms import CHANGES_METERS, RHYTHMS, ticks_of
from game.lines.solo_rhythm import phrases_in, solo_onsets


@given(st.integers(0, 500), st.sampled_from(CHANGES_METERS), st.sampled_from([6, 7, 8]), st.integers(2, 12))
def test_onsets_rise_from_a_pickup_to_a_stop_in_the_last_bar(seed, meter, level, bars):
    length = ticks_of(meter)
    onsets = solo_onsets(bars, RHYTHMS[level - 3], meter, SOLO_MANNERS[level], Random(seed))
    assert onsets == sorted(set(onsets))
    assert onsets[0] > -length
    assert (bars - 1) * length <= onsets[-1] < bars * length


@given(st.integers(0, 500))
def test_triplets_stay_whole(seed):
    onsets = set(solo_onsets(8, RHYTHMS[5], CHANGES_METERS[0], SOLO_MANNERS[8], Random(seed)))
    thirds = {onset for onset in onsets if onset % 12 in (4, 8)}
    assert all({onset - onset % 12 + 4, onset - onset % 12 + 8} <= onsets for onset in thirds)


@given(st.integers(0, 500))
def test_no_note_stands_alone_between_silences_and_none_comes_after_one_to_end_the_line(seed):
    onsets = solo_onsets(8, RHYTHMS[5], CHANGES_METERS[0], SOLO_MANNERS[8], Random(seed))
    inside = onsets[: sum(onset < 7 * 48 for onset in onsets)]
    assert all(
        onset - before < 24 or after - onset < 24
        for before, onset, after in zip(inside, inside[1:], inside[2:], strict=False)
    )
    assert onsets[-2] < 7 * 48 or onsets[-1] - onsets[-2] < 18


@given(st.integers(0, 500))
def test_no_silence_lasts_a_whole_bar(seed):
    onsets = solo_onsets(8, RHYTHMS[3], CHANGES_METERS[0], SOLO_MANNERS[6], Random(seed))
    assert max(after - before for before, after in pairwise(onsets)) <= 60


def test_a_phrase_begins_after_two_beats():
    assert phrases_in([0, 6, 12, 36, 42, 60, 90]) == [range(3), range(3, 6), range(6, 7)]
