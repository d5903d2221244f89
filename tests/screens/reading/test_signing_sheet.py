"""How a page that is signed lies on its sheet."""

from datetime import date

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.neck.neck_map import standard_map
from game.practice.take_request import request_for
from game.screens.reading.signing_sheet import SigningSheet
from tests.made import score

SIZES = [(960, 600), (1280, 720), (1920, 1080), (3840, 2160)]


def sheet(size: tuple[int, int]) -> SigningSheet:
    canvas = Canvas(pygame.Surface(size), Sheet(size), PAPER)
    return SigningSheet(canvas, request_for(score("F4 w", "G4 w"), standard_map()))


@pytest.mark.parametrize("size", SIZES)
def test_the_page_ends_above_the_words_and_the_room_to_sign_lies_on_the_paper(size):
    laid = sheet(size)
    assert laid.page_area.bottom / laid.canvas.sheet.unit <= laid.height - 300
    assert laid.room.left + laid.room.width <= laid.canvas.sheet.text_area.right / laid.canvas.sheet.unit


def test_the_date_is_written_from_the_left_as_far_as_the_pen_has_come():
    laid = sheet((1280, 720))
    surface = laid.canvas.surface
    inked = []
    for share in (0.0, 0.4, 1.0):
        surface.fill(PAPER.paper)
        laid.draw_date(date(2026, 11, 28), share)
        inked.append(pygame.mask.from_threshold(surface, PAPER.read, (90, 90, 90, 255)).count())
    assert inked[0] == 0 < inked[1] < inked[2]
