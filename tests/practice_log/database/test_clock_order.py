"""Where entries stand in time when clocks are wrong: the chain of a device, in hours from a Monday morning."""

from hypothesis import given
from hypothesis import strategies as st

from game.practice_log.database.clock_order import ClockPutRight, Stamp, moments

HOUR = 3_600_000_000
DAY, YEAR = 24, 365 * 24


def chain(*hours, first=1):
    return [Stamp(first + index, round(hour * HOUR)) for index, hour in enumerate(hours)]


def hours(stamps, *put_right, own=True):
    said = [ClockPutRight(upto, round(now * HOUR), own) for upto, now in put_right]
    return [us / HOUR for us in moments(stamps, said)]


def test_a_clock_that_runs_as_it_should_leaves_everything_where_it_is():
    assert hours(chain(0, 1, 24, 25)) == [0, 1, 24, 25]


def test_a_clock_set_back_by_a_moment_lifts_what_follows_to_what_came_before():
    assert hours(chain(0, 1, 0.99, 2)) == [0, 1, 1, 2]


def test_what_was_recorded_years_ahead_moves_back_to_when_the_clock_was_put_right():
    ahead = chain(0, 1, 5 * YEAR, 5 * YEAR + 1, 3, 4)
    assert hours(ahead, (4, 3)) == [0, 1, 2, 3, 3, 4]


def test_what_moves_back_keeps_its_distances_but_never_passes_what_came_before_it():
    ahead = chain(0, 10, 5 * YEAR, 5 * YEAR + 6, 12)
    assert hours(ahead, (4, 12)) == [0, 10, 10, 12, 12]


def test_a_clock_a_day_ahead_for_an_evening_does_no_harm_afterwards():
    evening = chain(12, 12 + DAY + 1, 12 + DAY + 2, 15, 12 + DAY, 13 + DAY)
    assert hours(evening, (3, 15)) == [12, 14, 15, 15, 36, 37]


def test_an_empty_battery_moves_nothing_once_the_clock_has_leapt_ahead_again():
    """For years of practice a computer's clock was right; one morning it says 2020, and the next it is right again."""
    years = chain(0, YEAR, 2 * YEAR, 10, 11, 2 * YEAR + DAY)
    assert hours(years, (3, 10)) == [0, YEAR, 2 * YEAR, 2 * YEAR, 2 * YEAR, 2 * YEAR + DAY]


def test_while_the_battery_is_empty_the_newest_clock_is_believed():
    assert hours(chain(0, YEAR, 2 * YEAR, 10), (3, 10)) == [0, 0, 10, 10]


def test_another_computer_may_say_that_a_clock_is_ahead():
    assert hours(chain(0, 1, YEAR), (3, 2), own=False) == [0, 1, 2]


def test_what_is_recorded_after_that_word_is_left_alone():
    assert hours(chain(0, YEAR, YEAR + 1), (2, 2), own=False) == [0, 2, YEAR + 1]


def test_entries_of_an_old_log_which_have_no_order_among_them_move_but_are_not_lifted():
    old = [*chain(5, 1, YEAR, first=-9), *chain(6, 7)]
    assert hours(old, (-7, 6)) == [5, 1, 6, 6, 7]


@given(st.lists(st.integers(0, 10**15), max_size=12), st.lists(st.tuples(st.integers(1, 12), st.integers(0, 10**15))))
def test_a_devices_own_count_is_never_reordered(at_us, said):
    stamps = [Stamp(index, us) for index, us in enumerate(at_us, start=1)]
    settled = moments(stamps, [ClockPutRight(*one) for one in said])
    assert settled == sorted(settled)
    assert len(settled) == len(stamps)


@given(st.lists(st.tuples(st.integers(1, 12), st.integers(0, 10**15))), st.randoms())
def test_it_does_not_matter_in_which_order_the_words_come(said, chance):
    stamps = chain(0, 1, YEAR, 2, 3, 5 * YEAR, 4)
    words = [ClockPutRight(*one, own=one[1] % 2 == 0) for one in said]
    shuffled = chance.sample(words, len(words))
    assert moments(stamps, words) == moments(stamps, shuffled)
