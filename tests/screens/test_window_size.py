"""The window is as large as can be drawn, whatever is asked of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.screens.window_size import LARGEST, ORDINARY, SMALLEST, first_size, fitted


@given(size=st.tuples(st.integers(1, 70_000), st.integers(1, 70_000)))
def test_every_size_comes_to_one_that_can_be_drawn(size):
    width, height = fitted(size)
    assert SMALLEST[0] <= width <= LARGEST[0]
    assert SMALLEST[1] <= height <= LARGEST[1]
    assert fitted((width, height)) == (width, height)


@pytest.mark.parametrize(
    ("screens", "size"),
    [
        ([(1920, 1080)], ORDINARY),
        ([(1280, 720)], ORDINARY),
        ([(1366, 768)], SMALLEST),
        ([(1280, 800)], SMALLEST),
        ([(1440, 900)], ORDINARY),
        ([(2560, 1440)], ORDINARY),
        ([(3840, 2160)], (2560, 1440)),
        ([(3840, 2160), (1280, 1024)], (2560, 1440)),
        ([(800, 600)], SMALLEST),
        ([], ORDINARY),
    ],
)
def test_at_the_start_the_whole_of_it_is_on_the_screen(screens, size):
    assert first_size(screens) == size
