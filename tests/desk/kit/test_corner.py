"""The turned-up corner."""

from game.desk.kit.corner import draw_corner
from game.desk.kit.ground import READING_TOP, paper_rect


def test_the_corner_with_its_words_is_at_the_bottom_right_of_the_paper_and_one_thing_to_click(canvas, drawn):
    hit = draw_corner(canvas, "On, at 70", "Enter", "Warm up, 2 minutes")
    paper = paper_rect(canvas.sheet, READING_TOP)
    assert abs(hit.right - paper.right) <= 1
    assert abs(hit.bottom - paper.bottom) <= 1
    assert hit.inflate(canvas.px(8), canvas.px(8)).contains(drawn(canvas))


def test_longer_words_reach_farther_to_the_left(canvas):
    short, long = draw_corner(canvas, "On", "Enter"), draw_corner(canvas, "Back to the start", "Enter")
    assert long.left < short.left
    assert long.right == short.right
