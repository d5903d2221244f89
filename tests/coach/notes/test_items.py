"""The evidence about a note, recent first."""

from math import isclose, log

from hypothesis import given
from hypothesis import strategies as st

from game.coach.notes.items import Item, item_key, item_on_day, map_name, read_right, read_wrong
from game.coach.numbers import NUMBERS
from game.judging.verdicts import Cause
from game.music.accidentals import AlteredBy
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.coach.judged_takes import MAP, ON_MAP, expected

TIMES = st.lists(st.floats(0.2, 9.0), min_size=1, max_size=30)


def keys(row, key=0, neck_map=MAP):
    return [item_key(note, map_name(neck_map)) for note in expected(row, key, neck_map)]


def test_a_sharp_from_the_signature_one_with_its_sign_and_one_from_earlier_in_the_bar_are_three_items():
    (by_signature,) = keys("F#4", key=1)
    by_sign, by_earlier = keys("F#4 F#4")
    assert [by_signature.shown, by_sign.shown, by_earlier.shown] == [
        AlteredBy.SIGNATURE,
        AlteredBy.ACCIDENTAL,
        AlteredBy.EARLIER,
    ]
    assert {key.written for key in (by_signature, by_sign, by_earlier)} == {"F#4"}
    assert len({by_signature, by_sign, by_earlier}) == 3


def test_the_same_note_in_other_takes_and_bars_is_one_item():
    assert keys("G4 A4")[1] == keys("A4 B4 C5")[0]


def test_another_position_or_octave_of_reading_makes_other_items():
    on_fifth, on_second = keys("A4")[0], keys("A4", neck_map=standard_map(position=2))[0]
    at_concert = standard_map(reading=Reading.CONCERT)
    assert on_fifth != on_second
    assert map_name(at_concert) != ON_MAP
    assert ON_MAP == "V, 64 59 55 50 45 40, guitar"


def test_a_home_moved_by_hand_makes_a_new_item_and_leaves_the_others():
    moved = MAP.with_choice(Place(5, 9))
    before, after = keys("F#4 G4"), keys("F#4 G4", neck_map=moved)
    assert before[0] != after[0]
    assert before[1] == after[1]


def test_a_note_without_a_home_is_no_item():
    assert keys("C2") == [None]


def test_a_new_reading_leaves_a_part_of_the_older_ones():
    item = read_right(read_wrong(Item(), Cause.NEIGHBOUR, 1.0), None, 1.0)
    assert (item.readings, item.right) == (2, 1.0)
    assert isclose(item.wrong, NUMBERS.reading_keeps)


def test_a_month_leaves_half_of_the_evidence_and_no_reading_is_forgotten():
    item = item_on_day(read_right(Item(day=10), log(0.7), 1.0), 40)
    assert (item.readings, item.right, item.timed, item.day) == (1, 0.5, 0.5, 40)
    assert isclose(item.mean_log_s, log(0.7))
    assert item_on_day(item, 39) is item


def test_causes_are_counted_and_strays_apart():
    item = Item()
    for cause in (Cause.OCTAVE, Cause.SIGNATURE, Cause.OCTAVE, None):
        item = read_wrong(item, cause, 1.0)
    item = read_wrong(item, None, 1.0, strayed=True)
    assert item.causes == ((Cause.SIGNATURE, 1), (Cause.OCTAVE, 2))
    assert (item.readings, item.strayed, item.right) == (5, 1, 0.0)


@given(TIMES)
def test_mean_and_squares_are_those_of_the_weighted_times(times_s):
    item = Item()
    for time_s in times_s:
        item = read_right(item, log(time_s), 1.0)
    logs = [log(time_s) for time_s in times_s]
    shares = [NUMBERS.reading_keeps**back for back in range(len(logs) - 1, -1, -1)]
    mean = sum(share * value for share, value in zip(shares, logs, strict=True)) / sum(shares)
    squares = sum(share * (value - mean) ** 2 for share, value in zip(shares, logs, strict=True))
    assert isclose(item.timed, sum(shares), rel_tol=1e-9)
    assert isclose(item.mean_log_s, mean, rel_tol=1e-9, abs_tol=1e-9)
    assert isclose(item.squares, squares, rel_tol=1e-6, abs_tol=1e-9)


@given(st.integers(0, 200), st.integers(0, 200))
def test_ageing_in_two_steps_is_ageing_in_one(first, second):
    item = read_right(Item(), log(0.9), 1.0)
    once, twice = item_on_day(item, first + second), item_on_day(item_on_day(item, first), first + second)
    assert isclose(once.right, twice.right, rel_tol=1e-9)
    assert once.day == twice.day
