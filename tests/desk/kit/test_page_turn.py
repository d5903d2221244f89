"""The corner sweeps across, and the page with it."""

import pygame

from game.desk.kit.canvas import Canvas
from game.desk.kit.ground import READING_TOP
from game.desk.kit.page_turn import draw_page_turn
from game.desk.sheet import Sheet
from game.desk.theme import PAPER

NOW, BEFORE = (10, 200, 10), (200, 10, 10)


def turned(share):
    window, before = pygame.Surface((1280, 720)), pygame.Surface((1280, 720))
    window.fill(NOW)
    before.fill(BEFORE)
    draw_page_turn(Canvas(window, Sheet((1280, 720)), PAPER), before, READING_TOP, share)
    return window


def share_of(window, colour):
    mask = pygame.mask.from_threshold(window, colour, (1, 1, 1, 255))
    return mask.count() / (1280 * 720)


def test_at_first_all_but_the_corner_is_the_page_of_before_and_at_last_nothing():
    first, last = turned(0.0), turned(1.0)
    assert share_of(first, BEFORE) > 0.97
    assert first.get_at((1244, 690))[:3] != BEFORE
    assert share_of(last, NOW) == 1


def test_less_and_less_is_left_of_the_page_of_before_and_more_and_more_is_uncovered_from_the_right():
    pictures = [turned(step / 8) for step in range(9)]
    left, uncovered = ([share_of(one, colour) for one in pictures] for colour in (BEFORE, NOW))
    assert left == sorted(left, reverse=True)
    assert uncovered == sorted(uncovered)
    assert turned(0.5).get_at((1200, 400))[:3] == NOW
    assert turned(0.5).get_at((100, 400))[:3] != NOW
