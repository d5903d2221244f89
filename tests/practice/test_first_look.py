"""The look before first sight takes half a minute at most, from when the page is turned up."""

from game.practice.first_look import LOOK_S, FirstLook


def test_while_the_page_is_covered_no_time_passes():
    assert FirstLook().left_s(1000.0) == LOOK_S
    assert not FirstLook().is_over(1000.0)


def test_from_then_on_its_seconds_are_counted_down_to_nothing():
    look = FirstLook(10.0)
    assert [look.left_s(now) for now in (10.0, 10.5, 39.9, 40.0, 99.0)] == [30, 30, 1, 0, 0]
    assert [look.is_over(now) for now in (39.9, 40.0)] == [False, True]
