"""A slip that is turned up."""

import pygame

from game.desk.kit.turned_up import draw_turned_up


def test_at_first_it_covers_all_and_then_less_and_less_from_below_and_at_last_nothing(canvas):
    cover = pygame.Rect(100, 120, 400, 200)
    left = [draw_turned_up(canvas, cover, share) for share in (0.0, 0.25, 0.5, 0.75, 1.0)]
    assert left[0] == cover
    assert [one.bottom for one in left] == sorted({one.bottom for one in left}, reverse=True)
    assert left[-1].height == 0
    assert {one.topleft for one in left} == {cover.topleft}


def test_nothing_is_drawn_beside_it_but_its_shadow_below(canvas, drawn):
    cover = pygame.Rect(100, 120, 400, 200)
    draw_turned_up(canvas, cover, 0.5)
    assert cover.contains(drawn(canvas))
