"""A slip with a message."""

import pygame

from game.desk.kit.ground import TABBED_TOP, ground
from game.desk.kit.slip import SLIP_WIDTH, SlipRoom, draw_slip, free_room, slip_height, slip_rooms

LONG = (
    "Homefret hears Guitar on port 3 now; a string that sounds twice is taken once, and what it heard before is kept."
)
ROOM = SlipRoom(380, 30)


def test_a_message_of_one_line_is_44_units_high_and_a_longer_one_is_higher(canvas):
    assert slip_height(canvas, "Bar 10 waits.") == 44
    assert slip_height(canvas, LONG) >= 71


def test_the_slip_holds_all_its_words(canvas, drawn):
    slip = draw_slip(canvas, LONG, ROOM)
    assert (slip.left, slip.width) == (canvas.px(380), canvas.px(380 + SLIP_WIDTH) - canvas.px(380))
    assert slip.inflate(canvas.px(40), canvas.px(40)).contains(drawn(canvas))


def test_it_slides_in_from_above_the_window(canvas):
    assert draw_slip(canvas, "Bar 10 waits.", ROOM, shown=0).bottom <= 0
    half, whole = (draw_slip(canvas, "Bar 10 waits.", ROOM, shown=shown) for shown in (0.5, 1))
    assert half.top < whole.top == canvas.px(30)


def laid(canvas):
    """The canvas with the bare desk on it, and that desk."""
    empty = ground(canvas.sheet.size, canvas.theme, TABBED_TOP)
    canvas.surface.blit(empty, (0, 0))
    return empty


def test_it_lies_where_nothing_is_written_and_stays_as_high_as_it_can(canvas):
    empty, tops = laid(canvas), (140.0, 200.0, 260.0)
    assert free_room(canvas, LONG, empty, slip_rooms(canvas, tops)) == next(slip_rooms(canvas, tops))
    window = canvas.sheet.size[0]
    canvas.surface.fill((0, 0, 0), (0, canvas.px(150), window, canvas.px(30)))
    assert free_room(canvas, "Bar 10 waits.", empty, slip_rooms(canvas, tops)).top == 200.0
    canvas.surface.fill((0, 0, 0), (window // 2, canvas.px(190), window, canvas.px(200)))
    left = free_room(canvas, "Bar 10 waits.", empty, slip_rooms(canvas, tops))
    assert left.top == 200.0
    assert left.left + left.width < canvas.sheet.size[0] / canvas.sheet.unit / 2


def test_where_there_is_no_room_it_covers_as_little_as_can_be_and_nothing_that_is_clicked(canvas):
    empty, tops = laid(canvas), (140.0, 260.0)
    window = canvas.sheet.size[0]
    canvas.surface.fill((0, 0, 0), (0, canvas.px(140), window, canvas.px(40)))
    canvas.surface.fill((0, 0, 0), (0, canvas.px(270), window, canvas.px(6)))
    assert free_room(canvas, "Bar 10 waits.", empty, slip_rooms(canvas, tops)).top == 260.0
    keys = pygame.Rect(0, canvas.px(265), window, canvas.px(20))
    assert free_room(canvas, "Bar 10 waits.", empty, slip_rooms(canvas, tops), [keys]).top == 140.0
