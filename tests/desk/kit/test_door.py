"""A door."""

from dataclasses import replace

import pygame

from game.desk.kit.door import DOOR_SIZE, Door, draw_door
from game.desk.kit.sketches import draw_neck_with_pointer

DOOR = Door(
    title="No guitar here", text="Click the neck on the screen, or use the keys.", sketch=draw_neck_with_pointer
)


def picture(canvas, door):
    copy = replace(canvas, surface=canvas.surface.copy())
    draw_door(copy, door, (300, 200))
    return copy


def test_all_of_it_can_be_clicked_and_a_long_text_stays_on_it(canvas, drawn):
    long = replace(DOOR, title="A very long title " * 4, text="and as long a text " * 9)
    hit = draw_door(canvas, long, (300, 200))
    assert hit == canvas.rect(300, 200, *DOOR_SIZE)
    assert hit.inflate(canvas.px(60), canvas.px(60)).contains(drawn(canvas))


def test_the_chosen_one_has_a_red_stroke_before_it_and_the_key_that_opens_it(canvas):
    plain, chosen = (picture(canvas, replace(DOOR, key="Enter", chosen=chosen)) for chosen in (False, True))
    beside = canvas.rect(270, 200, 26, 108)
    red = [
        pygame.mask.from_threshold(one.surface.subsurface(beside), canvas.theme.accent, (60, 60, 60, 255)).count()
        for one in (plain, chosen)
    ]
    assert red[0] == 0
    assert red[1] > 20


def test_the_opened_one_has_a_tick_in_place_of_the_key(canvas):
    opened = picture(canvas, replace(DOOR, key="Enter", chosen=True, opened=True))
    corner = opened.surface.subsurface(canvas.rect(300 + 412 - 60, 208, 50, 40))
    assert pygame.mask.from_threshold(corner, canvas.theme.read, (60, 60, 60, 255)).count() > 10
    assert pygame.mask.from_threshold(corner, canvas.theme.accent, (30, 30, 30, 255)).count() == 0


def test_three_lines_have_room_on_it_and_a_fourth_is_left_out(canvas):
    """German needs three for what is heard and what is not."""
    three, nine = (replace(DOOR, text="Gehört wird, was MIDI hat. " * count, title="") for count in (3, 9))
    assert picture(canvas, three).surface.get_view("2").raw == picture(canvas, nine).surface.get_view("2").raw
