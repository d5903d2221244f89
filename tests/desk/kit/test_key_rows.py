"""The keys at the foot."""

from itertools import combinations

from game.desk.kit.key_rows import Keyed, KeyRoom, draw_key_rows, key_rows

KEYS = [
    Keyed(("Enter",), "begin"),
    Keyed(("←", "→"), "minutes"),
    Keyed(("P",), "a short test"),
    Keyed(("F1",), "neck"),
    Keyed(("the open sixth string",), "begins", boxed=False),
    Keyed(("Esc",), "back to the shelf"),
]
WIDE, NARROW = KeyRoom(70, 1212, 645), KeyRoom(70, 500, 645)


def test_keys_stand_in_one_row_where_they_fit_and_otherwise_in_more_with_none_left_out(canvas):
    assert len(key_rows(canvas, KEYS, WIDE)) == 1
    narrow = key_rows(canvas, KEYS, NARROW)
    assert len(narrow) > 1
    assert [key for row in narrow for key in row] == KEYS


def test_each_box_can_be_clicked_by_itself_and_what_is_no_key_cannot(canvas):
    hits = draw_key_rows(canvas, KEYS, NARROW)
    assert [len(hit) for hit in hits] == [1, 2, 1, 1, 0, 1]
    boxes = [box for hit in hits for box in hit]
    assert not any(one.colliderect(other) for one, other in combinations(boxes, 2))
    assert all(canvas.px(36) - 1 <= box.height for box in boxes)


def test_the_lowest_row_stands_at_the_middle_of_its_room_and_nothing_runs_out_of_it(canvas, drawn):
    hits = draw_key_rows(canvas, KEYS, NARROW)
    assert abs(hits[-1][0].centery - canvas.px(645)) <= 1
    assert drawn(canvas).left >= canvas.px(70)
    assert drawn(canvas).right <= canvas.px(500) + 1
