"""Staff and neck with the player's ink, on every map there is."""

import msgspec
import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.ink_staff import StaffRoom
from game.neck.tuning import TUNINGS
from game.screens.ink_drawing import InkSheet, draw_ink_sheet
from game.screens.ink_sheet import ink_sheet
from tests.sampling import sample
from tests.screens.table import Table

MAPS = [(tuning, position) for tuning in TUNINGS for position in (1, 5, 9, 12, 19)]


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


def read(table, *rows, key=0):
    table.open(*rows, key=key)
    table.play_through()


@pytest.mark.parametrize(("tuning", "position"), sample(MAPS, by_default=2))
def test_on_every_map_all_of_it_has_room(table, tuning, position):
    table.settle(tuning=tuning, position=position, choices={})
    surface = pygame.Surface((1280, 720))
    surface.fill(table.context.theme.paper)
    canvas = Canvas(surface, table.context.sheet, table.context.theme)
    hit = draw_ink_sheet(canvas, ink_sheet(table.context), StaffRoom(650, 1212, 178, 11), neck_height=162)
    mask = pygame.mask.from_threshold(surface, table.context.theme.paper, (1, 1, 1, 255))
    mask.invert()
    boxes = mask.get_bounding_rects()
    drawn = boxes[0].unionall(boxes[1:])
    assert drawn.top >= 76
    assert drawn.bottom <= 536
    assert hit.bottom <= 540
    assert drawn.left >= 640
    assert drawn.right <= 1226


def test_it_is_kept_and_read_again_as_it_was(table):
    read(table, "F4 q, Bb4 h", key=-1)
    sheet = ink_sheet(table.context)
    assert msgspec.msgpack.decode(msgspec.msgpack.encode(sheet), type=InkSheet) == sheet
