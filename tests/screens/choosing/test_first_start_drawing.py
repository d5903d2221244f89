"""The picture of the first start, in every size and language."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.door import Door
from game.desk.kit.note_fill import Fill
from game.desk.kit.sketches import draw_guitar_with_cable
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.lines.first_note import FIRST_HOME
from game.neck.tuning import STANDARD, Place
from game.screens.choosing.first_start_drawing import MUSIC_RIGHT, OTHER_PLACES, FirstStartDrawing
from game.text.catalogue import catalogue_in, choose, say
from tests.sampling import sample

SIZES = [(960, 600), (1280, 720), (1920, 1080), (3440, 1440)]


def drawing(size, *, fill=Fill.PRINT, left_handed=False):
    pygame.display.init()
    pygame.font.init()
    pygame.display.set_mode((64, 64))
    return FirstStartDrawing(Canvas(pygame.Surface(size), Sheet(size), PAPER), fill, "C", left_handed=left_handed)


def test_the_places_that_are_struck_out_sound_the_same_note():
    assert {STANDARD.sounding(Place(*place)) for place in OTHER_PLACES} == {STANDARD.sounding(FIRST_HOME)}


@pytest.mark.parametrize("size", sample(SIZES, by_default=1))
@pytest.mark.parametrize("language", sample(["en", "de"], by_default=1))
@pytest.mark.parametrize("left_handed", sample([False, True], by_default=1))
def test_what_is_said_below_ends_before_the_doors_and_on_the_paper(size, language, left_handed):
    choose(catalogue_in(language))
    page = drawing(size, left_handed=left_handed)
    page.draw_music()
    before = page.canvas.surface.copy()
    page.draw_call(say("first.call"), say("first.other_note", note="F♯"))
    changed = pygame.mask.from_threshold(page.canvas.surface, (0, 0, 0), (1, 1, 1, 255), before)
    changed.invert()
    boxes = changed.get_bounding_rects()
    box = boxes[0].unionall(boxes[1:])
    assert box.right <= page.canvas.px(MUSIC_RIGHT + 34)
    assert box.bottom <= size[1] - page.canvas.px(28)


@pytest.mark.parametrize("language", ["en", "de"])
def test_the_doors_stand_one_below_the_other(language):
    choose(catalogue_in(language))
    page = drawing((960, 600))
    doors = tuple(Door(title=say("first.door.pickup"), text="", sketch=draw_guitar_with_cable) for _ in range(3))
    boxes = page.draw_doors(doors)
    assert [box.top for box in boxes] == sorted(box.top for box in boxes)
    assert not boxes[0].colliderect(boxes[1])


def test_note_and_home_are_black_until_they_are_found_and_blue_then():
    for fill, colour in ((Fill.PRINT, PAPER.ink), (Fill.INK, PAPER.read)):
        page = drawing((1280, 720), fill=fill)
        page.draw_music()
        for x, y in (page._head, page._home):
            around = page.canvas.surface.subsurface(page.canvas.rect(x - 12, y - 12, 24, 24))
            assert pygame.mask.from_threshold(around, colour, (25, 25, 25, 255)).count() > 60
