"""A slip with a message."""

from game.desk.kit.slip import draw_slip, slip_height

LONG = (
    "Homefret hears Guitar on port 3 now; a string that sounds twice is taken once, and what it heard before is kept."
)


def test_a_message_of_one_line_is_44_units_high_and_a_longer_one_is_higher(canvas):
    assert slip_height(canvas, "Bar 10 waits.") == 44
    assert slip_height(canvas, LONG) >= 71


def test_the_slip_holds_all_its_words(canvas, drawn):
    slip = draw_slip(canvas, LONG, 30)
    assert abs(slip.centerx - canvas.sheet.size[0] / 2) <= 1
    assert slip.inflate(canvas.px(40), canvas.px(40)).contains(drawn(canvas))


def test_it_slides_in_from_above_the_window(canvas):
    assert draw_slip(canvas, "Bar 10 waits.", 30, shown=0).bottom <= 0
    half, whole = (draw_slip(canvas, "Bar 10 waits.", 30, shown=shown) for shown in (0.5, 1))
    assert half.top < whole.top == canvas.px(30)
