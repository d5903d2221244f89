"""A signature in ink keeps its shape and its room."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.kit.signature_drawing import draw_signature
from game.desk.sheet import Sheet
from game.desk.theme import PAPER

ROOM = (100.0, 60.0, 120.0, 40.0)


def drawn(strokes=(), typed=""):
    pygame.font.init()
    surface = pygame.Surface((640, 360))
    surface.fill(PAPER.paper)
    canvas = Canvas(surface, Sheet((1280, 720)), PAPER)
    room = draw_signature(canvas, strokes, typed, ROOM, PAPER.read)
    mask = pygame.mask.from_threshold(surface, PAPER.paper, (3, 3, 3, 255))
    mask.invert()
    return room, mask.get_bounding_rects()


@pytest.mark.parametrize(
    "strokes",
    [
        (((0.0, 0.0), (8.0, 1.0)),),
        (((2.0, 0.4), (2.2, 0.6)),),
        (((0.5, 0.0), (0.5, 1.0)),),
        (((1.0, 0.5),),),
    ],
    ids=["wide", "tiny", "upright", "a dot"],
)
def test_whatever_was_drawn_stays_in_its_room(strokes):
    room, inked = drawn(strokes)
    assert inked
    assert all(room.inflate(6, 6).contains(one) for one in inked)


def test_a_signature_keeps_its_shape():
    """A square stays one, though the room is three times as wide as high."""
    square = (((1.0, 0.1), (1.8, 0.1), (1.8, 0.9), (1.0, 0.9), (1.0, 0.1)),)
    _, (box,) = drawn(square)
    assert abs(box.width - box.height) <= 2


def test_a_typed_name_is_written_as_large_as_it_has_room_and_nothing_is_nothing():
    room, inked = drawn(typed="Ada")
    assert room.contains(pygame.Rect.unionall(inked[0], inked[1:]))
    room, inked = drawn(typed="W" * 60)
    assert room.inflate(4, 8).contains(pygame.Rect.unionall(inked[0], inked[1:]))
    assert drawn()[1] == []
