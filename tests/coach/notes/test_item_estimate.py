"""What is known of a note, and how surely."""

from math import exp, isclose, log, sqrt
from random import Random

from hypothesis import given
from hypothesis import strategies as st
from judged_takes import after, judged

from game.coach.notes.item_estimate import cost_s, finding, knowledge, known, never_read, slowest, usual_find_s
from game.coach.notes.items import UNREAD, Item, aged, read_right, read_wrong
from game.coach.numbers import NUMBERS

ANSWERS = st.lists(st.booleans(), max_size=20)


def read(*times_s, wrong=0):
    item = Item()
    for time_s in times_s:
        item = read_right(item, log(time_s), 1.0)
    for _ in range(wrong):
        item = read_wrong(item, None, 1.0)
    return item


def test_a_note_never_read_is_as_usual_and_may_be_anything():
    new = never_read(1.2)
    assert isclose(new.find_s, 1.2)
    assert isclose(new.right, 0.8)
    assert new.right_high - new.right_low > 0.3
    assert new.find_high_s / new.find_low_s > 2


def test_more_readings_make_it_surer():
    few, many = known(read(*[0.8] * 3), 1.5), known(read(*[0.8] * 14), 1.5)
    assert many.right_low > few.right_low
    assert many.find_high_s / many.find_low_s < few.find_high_s / few.find_low_s
    assert abs(many.find_s - 0.8) < abs(few.find_s - 0.8)


def test_a_month_away_makes_it_less_sure():
    item = read(*[0.8] * 10)
    fresh, old = known(item, 1.5), known(aged(item, 60), 1.5)
    assert old.right_low < fresh.right_low
    assert old.find_high_s > fresh.find_high_s


@given(ANSWERS)
def test_bounds_lie_to_either_side_and_a_right_answer_never_counts_against(answers):
    item = Item()
    for right in answers:
        item = read_right(item, None, 1.0) if right else read_wrong(item, None, 1.0)
    told = known(item, 1.5)
    assert 0 < told.right_low < told.right < 1
    assert told.right_low < told.right_high < 1
    assert known(read_right(item, None, 1.0), 1.5).right > told.right
    assert known(read_wrong(item, None, 1.0), 1.5).right < told.right


def test_the_bounds_of_the_time_hold_about_as_often_as_they_say():
    """By simulation: log-normal times around a median that is drawn as the prior says."""
    chance, inside, trials = Random(5), 0, 2000
    for _ in range(trials):
        middle = log(1.5) + chance.gauss(0, NUMBERS.find_spread)
        item = read(*(exp(middle + chance.gauss(0, NUMBERS.find_spread)) for _ in range(chance.randint(1, 8))))
        found = finding(item, 1.5)
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


def test_the_slowest_come_first_and_only_what_was_read():
    items = after(*(judged("C5 G4 A4 B4 C5", find_ms=[1.0, 700.0, 3000.0, 1500.0, 600.0], sighting=n) for n in (1, 2)))
    assert [key.written for key in slowest(items, 2)] == ["A4", "B4"]
    assert len(slowest(items, 50)) == 4
    assert set(knowledge(items)) == set(items)


def test_the_spread_of_many_equal_readings_nears_the_plain_standard_error():
    chance = Random(2)
    item = read(*(exp(chance.gauss(0, 0.4)) for _ in range(200)))
    # The weights of a discounted mean sum to 1 / (1 - keeps).
    weight = 1 / (1 - NUMBERS.reading_keeps)
    assert 0.5 < finding(item, 1.0).spread / (0.4 / sqrt(weight)) < 1.6
