"""A small staff with a note that turns to ink."""

import pygame
import pytest

from game.desk.kit.small_staff import SMALL_STAFF, draw_small_staff
from game.music.pitch import pitch
from game.music.score import Reading


def inked(canvas, share, name="B4"):
    canvas.surface.fill(canvas.theme.paper)
    draw_small_staff(canvas, pitch(name), share, (100, 100))
    return pygame.mask.from_threshold(canvas.surface, canvas.theme.read, (24, 24, 24, 255)).count()


def test_the_farther_a_note_has_come_the_more_of_its_head_is_ink(canvas):
    none, some, more, whole = (inked(canvas, share) for share in (0, 0.3, 0.7, 1))
    assert none < some < more < whole


@pytest.mark.parametrize("name", ["Bb3", "F#4", "A5"])
def test_it_keeps_to_its_width_and_has_room_for_ledger_lines(canvas, drawn, name):
    inked(canvas, 0.5, name)
    box = drawn(canvas)
    assert box.left >= canvas.px(100)
    assert box.right <= canvas.px(100 + SMALL_STAFF[0]) + 1
    assert canvas.px(100 - 30) < box.top
    assert box.bottom < canvas.px(100 + SMALL_STAFF[1] + 30)


def test_the_clef_is_that_of_the_octave(canvas):
    pictures = []
    for reading in Reading:
        canvas.surface.fill(canvas.theme.paper)
        draw_small_staff(canvas, pitch("B4"), 0.5, (100, 100), reading)
        pictures.append(pygame.image.tobytes(canvas.surface, "RGB"))
    assert len(set(pictures)) == len(Reading)
