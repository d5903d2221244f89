"""Around music of first sight nothing meets, and what Enter does is always there to be clicked until it is read."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.screens.key_hints import key_hints
from game.screens.reading.sight_sheet import SightSheet, corner_is_free, draw_sight_sheet, music_room
from game.screens.routes import ToPage
from game.screens.shown_keys import lay_paper
from tests.screens.table import Table
from tests.screens.timed_pages import sight_request

LONG = "The Wild Mountain Thyme, or Will Ye Go, Lassie, Go? As Sung in the Hills"


def sheet(*, covered, enter=True):
    (hint,) = key_hints(("keys.enter", "keys.begin"))
    return SightSheet(
        title=LONG,
        how="look at key, range and repeats: 29 s",
        tempo="♩ = 66",
        covered=covered,
        sentences=("Due today.", "Up to thirty silent seconds."),
        enter=hint if enter else None,
        corner="Begin",
        keys=key_hints(("keys.escape", "keys.stop")),
    )


def clicked(table):
    return [press.key for _, press in table.context.window._boxes]


@pytest.mark.parametrize("corner", [False, True])
def test_before_it_is_read_enter_can_be_clicked_in_the_corner_or_in_the_heading(table, corner):
    canvas = Canvas(table.app.surface, table.context.sheet, table.context.theme)
    lay_paper(table.context, table.app.surface)
    draw_sight_sheet(table.context, canvas, sheet(covered=False), corner=corner)
    assert sorted(clicked(table)) == sorted((pygame.K_RETURN, pygame.K_ESCAPE))
    box = next(box for box, press in table.context.window._boxes if press.key == pygame.K_RETURN)
    assert (box.top > canvas.px(music_room(canvas)[1])) is corner


def test_while_it_is_read_only_stopping_is_offered(table):
    canvas = Canvas(table.app.surface, table.context.sheet, table.context.theme)
    lay_paper(table.context, table.app.surface)
    draw_sight_sheet(table.context, canvas, sheet(covered=False, enter=False), corner=True)
    assert clicked(table) == [pygame.K_ESCAPE]


@pytest.mark.parametrize("size", [(960, 600), (1280, 720), (1920, 1080)])
def test_in_its_heading_nothing_meets(table, monkeypatch, size):
    written = []
    write = Canvas.write

    def noted(self, text, *what):
        rect = write(self, text, *what)
        if text:
            written.append(rect)
        return rect

    monkeypatch.setattr(Canvas, "write", noted)
    table.context.window.sheet = Sheet(size)
    surface = pygame.Surface(size)
    canvas = Canvas(surface, table.context.sheet, table.context.theme)
    draw_sight_sheet(table.context, canvas, sheet(covered=True), corner=True)
    for at, rect in enumerate(written):
        assert table.context.sheet.paper.contains(rect)
        assert (
            rect.inflate(0, -rect.height // 2).collidelist([one.inflate(0, -one.height // 2) for one in written[:at]])
            < 0
        )


def test_music_that_reaches_low_needs_the_corner(table):
    canvas = Canvas(table.app.surface, table.context.sheet, table.context.theme)
    assert corner_is_free(canvas, canvas.px(590))
    assert not corner_is_free(canvas, canvas.px(640))


def test_the_corner_is_seen_on_a_page_that_was_turned_up_and_its_music_stays_whole(tmp_path):
    """Music paints its paper anew in every frame: never over the key that begins."""
    table = Table(tmp_path, guitar=True)
    table.go(ToPage(sight_request(table), chosen=True))
    table.key(pygame.K_RETURN, "\r")
    assert not table.screen.view.covered
    table.picture()
    table.picture()
    box = next(box for box, press in table.context.window._boxes if press.key == pygame.K_RETURN)
    red = pygame.mask.from_threshold(table.app.surface.subsurface(box), table.context.theme.accent, (40, 40, 40, 255))
    assert red.count() > 50
    assert table.screen.view.music.lowest_px <= box.top
