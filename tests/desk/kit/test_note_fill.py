"""Fill says first how far a note has come, colour only again."""

from game.desk.kit.canvas import blend
from game.desk.kit.note_fill import Fill, empty_colour, fill_colour


def test_ink_is_blue_print_black_and_what_is_not_met_light(canvas):
    theme = canvas.theme
    assert fill_colour(canvas, Fill.INK) == fill_colour(canvas, Fill.DUE) == theme.read
    assert fill_colour(canvas, Fill.PRINT) == theme.ink
    assert fill_colour(canvas, Fill.EMPTY) == empty_colour(canvas) == blend(theme.paper, theme.pencil, 0.74)


def test_what_is_due_again_is_ink_still():
    assert [fill for fill in Fill if fill.inked] == [Fill.INK, Fill.DUE]
