"""The part of a large sheet that is seen follows what matters, and never leaves the sheet."""

from hypothesis import given
from hypothesis import strategies as st
from pygame import Rect

from game.desk.part_in_view import Followed, between, follow_all, kept_on, moved_to, pulled

SHEET = Rect(0, 0, 2560, 1440)
PART = Rect(400, 300, 1280, 600)


def rects(width, height):
    """Rectangles on the sheet, up to so wide and high."""
    sizes = st.tuples(st.integers(1, width), st.integers(1, height))
    return sizes.flatmap(
        lambda size: st.builds(
            Rect, st.integers(0, SHEET.width - size[0]), st.integers(0, SHEET.height - size[1]), *map(st.just, size)
        )
    )


PARTS = st.builds(Rect, st.integers(0, 1280), st.integers(0, 840), st.just(1280), st.just(600))


@given(part=PARTS, wanted=rects(1280, 600), air=st.integers(0, 60))
def test_what_fits_is_never_cut_and_the_part_never_leaves_the_sheet(part, wanted, air):
    moved = moved_to(part, SHEET, follow_all(wanted), air)
    assert moved.contains(wanted)
    assert SHEET.contains(moved)
    assert moved_to(moved, SHEET, follow_all(wanted), air) == moved


@given(part=PARTS, most=rects(2560, 1440), data=st.data())
def test_of_what_does_not_fit_its_core_is_seen_wherever_that_does(part, most, data):
    width, height = min(most.width, 1280), min(most.height, 600)
    left = data.draw(st.integers(most.left, most.right - width))
    core = Rect(left, data.draw(st.integers(most.top, most.bottom - height)), width, height)
    for turns in (False, True):
        moved = moved_to(part, SHEET, Followed(most, core, turns=turns), 20)
        assert moved.contains(core)
        assert SHEET.contains(moved)


def test_what_is_in_sight_already_moves_nothing():
    assert moved_to(PART, SHEET, follow_all(Rect(1290, 610, 100, 100)), 20) == PART


def test_it_moves_no_farther_than_it_must():
    below = moved_to(PART, SHEET, follow_all(Rect(1300, 1000, 300, 50)), 20)
    assert below == Rect(400, 470, 1280, 600)


def test_what_is_seen_from_the_beginning_of_the_sheet_is_seen_from_there():
    assert moved_to(PART, SHEET, follow_all(Rect(100, 200, 900, 60)), 20).topleft == (0, 0)


def test_what_is_wider_than_the_part_is_seen_from_its_beginning_on():
    assert moved_to(PART, SHEET, follow_all(Rect(300, 700, 2000, 60)), 20).left == 280


def test_along_a_line_it_stands_still_as_long_as_the_next_bars_are_seen_and_then_goes_on_at_once():
    line = Rect(140, 500, 2280, 200)

    def at(x):
        return Followed(line, Rect(x, 500, 400, 200), turns=True)

    part = moved_to(PART, SHEET, at(140), 20)
    assert part.left == 120
    assert {moved_to(part, SHEET, at(x), 20).left for x in range(140, 1000, 20)} == {120}
    assert moved_to(part, SHEET, at(1020), 20).left == 1000


def test_the_end_of_a_line_is_seen_though_the_part_cannot_go_farther():
    line = Followed(Rect(140, 500, 2280, 200), Rect(2300, 500, 120, 200), turns=True)
    assert moved_to(PART, SHEET, line, 20).right == SHEET.right


def test_a_part_larger_than_the_sheet_begins_where_the_sheet_does():
    assert kept_on(Rect(50, 50, 3000, 2000), SHEET).topleft == (0, 0)


def test_the_mouse_pulls_near_an_edge_the_more_the_nearer_and_in_the_middle_or_outside_not_at_all():
    size = (1000, 500)
    assert pulled((500, 250), size) == (0.0, 0.0)
    assert pulled((0, 0), size) == (-1.0, -1.0)
    assert 0 < pulled((900, 250), size)[0] < pulled((960, 250), size)[0] < 1
    assert pulled((500, 500), size) == pulled((1000, 250), size) == (0.0, 0.0)


def test_on_its_way_it_begins_and_ends_where_it_should():
    first, then = Rect(0, 0, 10, 10), Rect(100, 40, 10, 10)
    assert between(first, then, 0) == first
    assert between(first, then, 1) == then
    assert between(first, then, 0.5).topleft == (50, 20)
