"""What an engraved page is made of."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.engraving.shapes import Box, Join, Shape, System, bounding_box, boxes_of
from game.music.pitch import pitch
from game.music.written import HeadId

sides = st.floats(-50, 50)


@given(st.lists(st.builds(Box, sides, sides, sides, sides), min_size=1, max_size=5))
def test_the_bounding_box_holds_every_box_and_touches_them(boxes):
    found = bounding_box(boxes)
    assert found.left == min(box.left for box in boxes)
    assert found.top == min(box.top for box in boxes)
    assert found.right == max(box.right for box in boxes)
    assert found.bottom == max(box.bottom for box in boxes)


@pytest.mark.parametrize(("name", "y"), [("F5", 10.0), ("E4", 14.0), ("B4", 12.0), ("C4", 15.0), ("A5", 9.0)])
def test_lines_and_spaces_lie_half_a_space_apart(name, y):
    """The treble staff runs from E4 to F5 (trade)."""
    assert System(top_line=10.0).step_y(pitch(name).staff_step) == y


def test_all_print_of_a_system_has_its_boxes():
    made = [Shape("", Box(left, 0, left + 1, 1)) for left in range(5)]
    system = System(
        opening=[made[0]], ground=[made[1]], groups={HeadId(0, 0): [made[2], made[3]]}, joins=[Join((), (made[4],))]
    )
    assert sorted(box.left for box in boxes_of(system)) == [0, 1, 2, 3, 4]
    assert system.box_of(HeadId(0, 0)) == Box(2, 0, 4, 1)
