"""A picture that stands still is drawn once."""

import pygame
import pytest

from game.player.settings import Look
from game.screens.kept_picture import KeptPicture
from game.screens.routes import ToFirstStart, ToGoodNight, ToToday
from tests.screens.table import Table


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


def test_it_is_drawn_when_what_it_shows_its_size_or_look_is_another_and_else_copied(table):
    kept, drawn = KeptPicture(table.context), []

    def show(what, size=(64, 64)):
        surface = pygame.Surface(size)
        kept.show(surface, what, lambda onto: (drawn.append(what), onto.fill((9, 99, 9))))
        assert surface.get_at((5, 5))[:3] == (9, 99, 9)

    show("one")
    show("one")
    show("two")
    show("two", (32, 32))
    table.settle(look=Look.NIGHT)
    show("two", (32, 32))
    kept.forget()
    show("two", (32, 32))
    assert drawn == ["one", "two", "two", "two", "two"]


@pytest.mark.parametrize("route", [ToToday(), ToGoodNight(), ToFirstStart()])
def test_what_can_be_clicked_stays_while_the_picture_does_and_comes_back_after_the_sheet_of_keys(table, route):
    table.go(route)
    before, picture = list(table.context.window._boxes), table.picture()
    table.app.step([])
    assert table.context.window._boxes == before
    table.key(pygame.K_F1)
    assert table.context.window._boxes != before
    table.key(pygame.K_F1)
    assert table.context.window._boxes == before
    assert table.picture() == picture
