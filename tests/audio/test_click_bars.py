"""The bars under the clicks."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.audio.click_bars import ClickBar, bars_back, count_in_bars, placed_bars
from game.errors import TakeError
from game.music.meter import Meter
from tests.made import bar
from tests.refusing import refusal

FOUR = Meter()


def spans(bars: list[ClickBar]) -> list[tuple[Fraction, Fraction, Fraction]]:
    """First beat, start and stop of each."""
    return [(one.first_beat, one.start, one.stop) for one in bars]


def whole(start: int, meter: Meter = FOUR) -> ClickBar:
    return ClickBar(meter=meter, first_beat=Fraction(start), start=Fraction(start), stop=start + meter.bar_length)


def test_bars_follow_one_another_and_the_first_beat_of_a_pickup_lies_before_onset_0():
    placed = placed_bars([bar("G4 q", pickup=True), bar("G4 w"), bar("G4 h.", meter=Meter(3, 4))])
    assert spans(placed) == [(-3, 0, 1), (1, 1, 5), (5, 5, 8)]


def test_the_second_half_of_a_bar_cut_by_a_repeat_sign_goes_on_from_the_first_beat_of_the_first():
    assert spans(placed_bars([bar("G4 h."), bar("G4 q"), bar("G4 w")])) == [(0, 0, 3), (0, 3, 4), (4, 4, 8)]


def test_two_short_bars_that_make_no_whole_one_are_counted_each_from_its_own_beginning():
    assert spans(placed_bars([bar("G4 h"), bar("G4 q"), bar("G4 w")])) == [(0, 0, 2), (2, 2, 3), (3, 3, 7)]


@pytest.mark.parametrize(
    ("meter", "count"), [(FOUR, 1), (Meter(3, 4), 1), (Meter(2, 4), 2), (Meter(6, 8), 2), (Meter(9, 8), 1)]
)
def test_one_bar_is_counted_in_and_two_where_it_has_fewer_than_three_beats(meter: Meter, count: int):
    counting = count_in_bars(whole(0, meter), None)
    assert spans(counting) == [
        (at, at, at + meter.bar_length) for at in (-meter.bar_length * n for n in range(count, 0, -1))
    ]


def test_before_a_pickup_its_own_bar_is_begun_after_the_bars_counted_in():
    (pickup,) = placed_bars([bar("G4 q", pickup=True)])
    assert spans(count_in_bars(pickup, 1)) == [(-7, -7, -3), (-3, -3, 0)]
    assert count_in_bars(pickup, 0) == []


@pytest.mark.parametrize("bars", [-1, 9])
def test_eight_bars_are_the_most_that_are_counted_in(bars: int):
    assert len(count_in_bars(whole(0), 8)) == 8
    with refusal(TakeError, f"count-in of {bars} bars is out of range"):
        count_in_bars(whole(0), bars)


def test_a_passage_of_whole_bars_loops_at_once():
    assert bars_back(whole(0), whole(4)) == []


def test_a_passage_that_ends_where_its_pickup_enters_loops_at_once_and_else_what_is_missing_is_counted():
    first, *_, last = placed_bars([bar("G4 q", pickup=True), bar("G4 w"), bar("G4 h.")])
    assert bars_back(first, last) == []
    first, *_, last = placed_bars([bar("G4 q", pickup=True), bar("G4 w"), bar("G4 h")])
    assert spans(bars_back(first, last)) == [(5, 7, 8)]


@given(entering=st.integers(0, 3), lasts=st.integers(1, 4))
def test_however_a_passage_begins_and_ends_it_comes_round_at_its_own_beat_within_two_bars(entering: int, lasts: int):
    first = ClickBar(meter=FOUR, first_beat=Fraction(-entering), start=Fraction(0), stop=Fraction(4 - entering))
    last = ClickBar(meter=FOUR, first_beat=first.stop, start=first.stop, stop=first.stop + lasts)
    back = bars_back(first, last)
    again = back[-1].stop if back else last.stop
    assert (again - last.first_beat) % 4 == entering, "the same beat of the bar as at the first time"
    assert 0 <= again - last.stop < 8
