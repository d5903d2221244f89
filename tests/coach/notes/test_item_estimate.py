"""What is known of a note, and how surely."""

from math import exp, isclose, log, sqrt
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from game.coach.notes.item_estimate import combined_items, cost_s, find_time_estimate, usual_find_s
from game.coach.notes.items import UNREAD, Item, item_on_day, read_right, read_wrong
from game.coach.numbers import NUMBERS
from tests.coach.judged_takes import after, judged

ANSWERS = st.lists(st.booleans(), max_size=20)


def read(*times_s, wrong=0):
    item = Item()
    for time_s in times_s:
        item = read_right(item, log(time_s), 1.0)
    for _ in range(wrong):
        item = read_wrong(item, None, 1.0)
    return item


def bounds_s(item, usual_s=1.5):
    """Between which seconds the median time to find lies, as one standard deviation to either side says."""
    found = find_time_estimate(item, usual_s)
    return exp(found.mean_log_s - found.spread), exp(found.mean_log_s), exp(found.mean_log_s + found.spread)


def test_a_note_never_read_is_as_usual_and_may_be_anything():
    low_s, middle_s, high_s = bounds_s(UNREAD, 1.2)
    assert isclose(middle_s, 1.2)
    assert high_s / low_s > 2
    # Four in five are right, and a wrong note costs twice as much again.
    assert isclose(cost_s(UNREAD, 1.2), 1.2 * (1 + NUMBERS.wrong_costs * 0.2))


def test_more_readings_make_it_surer():
    (few_low_s, few_s, few_high_s), (low_s, middle_s, high_s) = bounds_s(read(*[0.8] * 3)), bounds_s(read(*[0.8] * 14))
    assert high_s / low_s < few_high_s / few_low_s
    assert abs(middle_s - 0.8) < abs(few_s - 0.8)


def test_a_month_away_makes_it_less_sure():
    item = read(*[0.8] * 10)
    assert find_time_estimate(item_on_day(item, 60), 1.5).spread > find_time_estimate(item, 1.5).spread


@given(ANSWERS)
def test_a_right_answer_never_costs_and_a_wrong_one_always_does(answers):
    item = Item()
    for right in answers:
        item = read_right(item, None, 1.0) if right else read_wrong(item, None, 1.0)
    for doubt in (0.0, NUMBERS.doubt):
        cost = cost_s(item, 1.5, doubt=doubt)
        assert cost_s(read_right(item, None, 1.0), 1.5, doubt=doubt) < cost
        assert cost_s(read_wrong(item, None, 1.0), 1.5, doubt=doubt) > cost
    assert cost_s(item, 1.5, doubt=NUMBERS.doubt) > cost_s(item, 1.5)


def test_two_items_together_weigh_as_if_they_had_been_one():
    """Mean and spread of both rows of times, by hand."""
    one, other = read(0.5, 0.7, wrong=1), read(1.0, 2.0)
    both = combined_items(one, other)
    assert (both.readings, both.wrong) == (5, one.wrong)
    assert isclose(both.right, one.right + other.right)
    logs = [one.mean_log_s, other.mean_log_s]
    weights = [one.timed, other.timed]
    mean = sum(weight * value for weight, value in zip(weights, logs, strict=True)) / sum(weights)
    apart = sum(weight * (value - mean) ** 2 for weight, value in zip(weights, logs, strict=True))
    assert isclose(both.mean_log_s, mean)
    assert isclose(both.squares, one.squares + other.squares + apart)


def test_the_bounds_of_the_time_hold_about_as_often_as_they_say():
    """By simulation: log-normal times around a median that is drawn as the prior says."""
    chance, inside, trials = Random(5), 0, 2000
    for _ in range(trials):
        middle = log(1.5) + chance.gauss(0, NUMBERS.find_spread)
        item = read(*(exp(middle + chance.gauss(0, NUMBERS.find_spread)) for _ in range(chance.randint(1, 8))))
        found = find_time_estimate(item, 1.5)
        inside += abs(found.mean_log_s - middle) <= NUMBERS.confidence_z * found.spread
    assert 0.56 < inside / trials < 0.74, "60 % to both sides"


def test_a_wrong_note_costs_more_than_its_time():
    assert cost_s(read(0.8, 0.8, wrong=2), 1.5) > 1.5 * cost_s(read(0.8, 0.8), 1.5)


def test_doubt_makes_the_unknown_dearer_than_the_known_of_the_same_mean():
    sure = read(*[1.5] * 14)
    assert cost_s(UNREAD, 1.5, doubt=0.5) / cost_s(UNREAD, 1.5) > cost_s(sure, 1.5, doubt=0.5) / cost_s(sure, 1.5)


def test_the_usual_time_is_the_middle_one_and_the_tables_own_where_nothing_was_timed():
    assert usual_find_s({}) == NUMBERS.usual_find_s
    items = after(judged("F4 G4 A4 B4 C5", find_ms=[0.0, 700.0, 800.0, 5000.0, 900.0]))
    assert isclose(usual_find_s(items), 0.9)


def test_the_spread_of_many_equal_readings_nears_the_plain_standard_error():
    chance = Random(2)
    item = read(*(exp(chance.gauss(0, 0.4)) for _ in range(200)))
    # The weights of a discounted mean sum to 1 / (1 - keeps).
    weight = 1 / (1 - NUMBERS.reading_keeps)
    assert 0.5 < find_time_estimate(item, 1.0).spread / (0.4 / sqrt(weight)) < 1.6
