"""How the minutes of a day are shared out."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_minutes import blocks
from game.coach.plan.plan_steps import StepKind

K = StepKind
KINDS = [K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES, K.PASSAGE, K.NEW_TUNE, K.SIGNED_OFF]


def day(minutes, kinds=KINDS, done=None, slow=0):
    return blocks(minutes, kinds, done or {}, NUMBERS, slow=slow)


def total(row, kind):
    return sum(length for other, length in row if other is kind)


@given(
    st.integers(5, 90),
    st.sets(st.sampled_from(KINDS), min_size=1),
    st.dictionaries(st.sampled_from(KINDS), st.floats(0, 60)),
    st.integers(0, 10),
)
def test_a_day_never_runs_over_and_has_only_what_there_is_music_for(minutes, kinds, done, slow):
    row = day(minutes, kinds, done, slow)
    assert sum(length for _, length in row) <= minutes
    assert all(length >= 1 for _, length in row)
    assert {kind for kind, _ in row} <= kinds | {K.REST}


@given(st.integers(5, 90), st.integers(0, 10))
def test_after_twenty_five_minutes_of_practice_comes_a_rest(minutes, slow):
    stretch = 0
    for kind, length in day(minutes, slow=slow):
        stretch = 0 if kind is K.REST else stretch + length
        assert stretch <= NUMBERS.rest_after


def test_the_day_is_in_its_order_and_what_is_new_comes_between_the_passages():
    kinds = [kind for kind, _ in day(60) if kind is not K.REST]
    assert kinds[:4] == [K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES, K.PASSAGE]
    assert kinds[4:6] == [K.NEW_TUNE, K.PASSAGE]
    assert kinds[-1] is K.SIGNED_OFF


@given(st.integers(5, 90), st.integers(0, 10), st.sampled_from([K.PASSAGE, K.NEW_TUNE, K.COURSE]))
def test_notes_alone_come_once_and_never_fill_more_than_a_third_of_a_day(minutes, slow, music):
    kinds = {K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES, K.SIGNED_OFF, music}
    row = [kind for kind, _ in day(minutes, kinds, slow=slow)]
    on_notes = total(day(minutes, kinds, slow=slow), K.WARM_UP) + total(day(minutes, kinds, slow=slow), K.SLOW_NOTES)
    assert on_notes <= max(minutes / 3, 1)
    assert music in row
    if music is not K.NEW_TUNE:
        assert row.count(K.SLOW_NOTES) <= 1


def test_of_notes_that_were_practised_today_no_more_come_than_are_left_of_their_part():
    assert total(day(16, done={K.WARM_UP: 1.0, K.SLOW_NOTES: 3.0}, slow=10), K.SLOW_NOTES) == 2


def test_each_note_that_is_slow_takes_its_minutes_from_the_rest():
    shares = [total(day(20, slow=slow), K.SLOW_NOTES) for slow in range(11)]
    assert shares == sorted(shares)
    assert (shares[0], shares[10]) == (3, 5)


@pytest.mark.parametrize(
    ("minutes", "left_out"),
    [
        (5, {K.SIGNED_OFF, K.NEW_TUNE, K.SLOW_NOTES}),
        (7, {K.SIGNED_OFF, K.SLOW_NOTES}),
        (9, {K.SIGNED_OFF}),
        (11, set()),
    ],
)
def test_a_short_day_leaves_out_the_least_useful_first(minutes, left_out):
    assert set(KINDS) - {kind for kind, _ in day(minutes)} == left_out


@pytest.mark.parametrize("minutes", range(NUMBERS.plan_fewest, NUMBERS.plan_most + 1))
def test_every_day_reaches_a_passage_and_before_there_is_any_a_new_tune(minutes):
    assert K.PASSAGE in {kind for kind, _ in day(minutes)}
    at_first = [kind for kind in KINDS if kind not in (K.PASSAGE, K.SIGNED_OFF)]
    assert K.NEW_TUNE in {kind for kind, _ in day(minutes, at_first)}


@pytest.mark.parametrize("minutes", range(NUMBERS.plan_fewest, NUMBERS.plan_most + 1))
def test_where_all_there_is_is_signed_off_every_day_ends_with_a_piece_of_it(minutes):
    """Else what is due would never come back to somebody who has five minutes a day."""
    at_last = [kind for kind in KINDS if kind not in (K.PASSAGE, K.NEW_TUNE)]
    assert day(minutes, at_last)[-1][0] is K.SIGNED_OFF


def test_what_was_done_today_is_counted_in():
    row = day(8, done={K.WARM_UP: 1.0, K.FIRST_SIGHT: 4.0, K.SLOW_NOTES: 4.0})
    assert {kind for kind, _ in row}.isdisjoint({K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES})
    assert sum(length for _, length in row) == 8


def test_a_block_too_long_for_one_stretch_is_divided_by_a_rest():
    row = day(60, kinds=[K.FIRST_SIGHT])
    assert row[:2] == ((K.FIRST_SIGHT, 25), (K.REST, 5))


def test_a_course_has_its_minutes_and_on_a_short_day_stands_for_the_passage_where_none_was_begun():
    assert total(day(20, [*KINDS[:4], K.COURSE]), K.COURSE) >= 4
    assert total(day(5, [K.WARM_UP, K.FIRST_SIGHT, K.SLOW_NOTES, K.COURSE]), K.COURSE) >= 2
