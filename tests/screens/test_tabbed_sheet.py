"""The sheets with tabs: a click or a letter leads from each to every other, and the corner to what comes next."""

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.screens.base_screen import BaseScreen
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet, route_of_tab
from tests.screens.table import Table

SIZES = [(960, 600), (1280, 720), (3840, 2160)]


class Sheet(BaseScreen):
    """A sheet with nothing on it."""

    tab = SheetTab.MAP
    words = False

    @property
    def typing(self):
        return self.words

    def draw(self, surface):
        lay_sheet(self.context, surface, self.tab)
        self.corner = draw_next(self.context, surface, "on", above="a few words")
        return True

    def on_key(self, event):
        self.pressed = event.key


@pytest.fixture(params=SIZES, ids=str)
def laid(request, tmp_path):
    """A table with such a sheet on it."""
    table = Table(tmp_path, size=request.param)
    table.app.screen = Sheet(table.context)
    table.app.step([])
    return table


def test_each_tab_is_clicked_and_leads_where_its_letter_leads(laid):
    window = laid.context.window
    found = {press.key: box for box, press in window._boxes}
    for tab in SheetTab:
        box = found[tab.press.key]
        assert window.press_at(box.center) == tab.press
        assert route_of_tab(tab.press.key) == tab.route
        assert laid.app.surface.get_rect().contains(box)


def test_no_two_of_what_can_be_clicked_overlap(laid):
    boxes = [box for box, _ in laid.context.window._boxes]
    assert all(box.collidelistall(boxes) == [number] for number, box in enumerate(boxes))


def test_a_letter_leads_to_its_tab_and_no_other_letter_anywhere(laid):
    screen = laid.app.screen
    for key in range(pygame.K_a, pygame.K_z + 1):
        event = pygame.event.Event(pygame.KEYDOWN, key=key, unicode=chr(key), mod=0)
        assert screen.handle(event) == route_of_tab(key)


def test_while_words_are_typed_letters_lead_nowhere(laid):
    laid.app.screen.words = True
    laid.letters("mush")
    assert isinstance(laid.app.screen, Sheet)
    assert laid.app.screen.pressed == ord("h")


def test_a_click_on_the_corner_or_its_words_is_enter(laid):
    screen = laid.app.screen
    for at in (screen.corner.center, (screen.corner.left + 2, screen.corner.bottom - 2)):
        screen.pressed = None
        laid.click(at)
        assert screen.pressed == pygame.K_RETURN


def test_the_free_string_does_what_the_corner_does_and_twice_goes_back(laid):
    screen = laid.app.screen
    screen.on_gesture(1, 0.0)
    assert screen.pressed == pygame.K_RETURN
    screen.on_gesture(2, 0.0)
    assert screen.pressed == pygame.K_ESCAPE


def test_the_sheet_begins_below_its_tabs(laid):
    canvas = Canvas(laid.app.surface, laid.context.sheet, laid.context.theme)
    assert max(box.bottom for box, press in laid.context.window._boxes if press.key in range(97, 123)) <= canvas.px(65)
