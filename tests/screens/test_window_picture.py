"""The picture in the window, and what the mouse means on it, as large as it may be."""

import pygame
import pytest

from game.player.settings import Settings
from game.screens.routes import ToProgress, ToSettings, ToToday
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.ways import some_routes


@pytest.fixture(autouse=True)
def _pages_are_turned(monkeypatch):
    monkeypatch.setattr(Table, "turns_pages", True)


def motion(at, *, button):
    return pygame.event.Event(pygame.MOUSEMOTION, pos=at, rel=(1, 1), buttons=(int(button), 0, 0))


def test_a_mouse_that_only_moves_is_nothing_that_happened(table):
    assert not table.app.take_in([motion((50, 50), button=False)])
    assert table.app.take_in([motion((50, 50), button=True)])


@pytest.mark.parametrize("percent", sample([175, 125, 200], by_default=1))
def test_a_click_means_what_is_seen_under_it(tmp_path, percent):
    """The tab beside, and a box of a key once the view was moved."""
    table = Table(tmp_path, Settings(text_size=percent))
    table.go(ToSettings())
    window, view = table.context.window, table.app.picture.view
    today = next(box for box, press in window._boxes if press.key == pygame.K_t)
    part = view.part(table.clock.now_s())
    table.click((today.centerx - part.left, today.centery - part.top))
    assert table.screen_name == "TodayScreen"


def test_a_page_is_not_turned_over_text_that_is_larger_than_the_window(tmp_path):
    table = Table(tmp_path, Settings(text_size=150))
    table.go(ToProgress())
    table.key(pygame.K_RETURN, "\r")
    assert table.screen_name == "TodayScreen"
    assert not table.app.picture.motion.moving(table.screen)


def test_a_slip_with_a_message_is_in_sight_wherever_the_view_is(tmp_path):
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToSettings())
    for _ in range(4):
        table.key(pygame.K_DOWN, mod=pygame.KMOD_LCTRL)
    table.wait(0.5)
    before = table.picture()
    table.context.say("The guitar is gone.")
    table.wait(0.5)
    after = table.picture()
    top = 1280 * 4 * 100
    assert before[:top] != after[:top]
    assert before[top * 3 :] == after[top * 3 :]


def test_settings_are_changed_back_to_100_percent_by_the_mouse_alone(tmp_path):
    """From wherever the row is: the mouse moves the view, then clicks what it sees."""
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToToday())
    click_seen(table, pygame.K_s)
    assert table.screen_name == "SettingsScreen"
    sheet = table.screen._sheet
    row = next(row for row in sheet.in_sight if table.screen._rows[row].name == "text_size")
    target = sheet.row_rect(row)
    click_on_sheet(table, (target.right - 20, target.centery))
    assert table.context.settings.text_size == 100
    assert table.app.picture.view.surface is table.app.surface


def test_a_tune_is_opened_by_the_keys_alone_and_what_is_chosen_is_always_seen(tmp_path):
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToToday())
    table.key(pygame.K_h, "h")
    for _ in range(9):
        table.key(pygame.K_DOWN)
        table.wait(0.4)
        assert seen(table).contains(table.context.window.followed.core)
    table.key(pygame.K_RIGHT)
    table.wait(0.4)
    assert seen(table).contains(table.context.window.followed.core)
    table.key(pygame.K_RETURN, "\r")
    assert table.context.window.followed.core.width > 0
    assert seen(table).contains(table.context.window.followed.core)


@pytest.mark.parametrize("percent", sample([200, 150], by_default=1))
def test_on_every_screen_what_matters_is_in_sight(tmp_path, percent):
    table = Table(tmp_path / "player", Settings(text_size=percent))
    for name, route in some_routes(table, tmp_path, 1).items():
        table.go(route)
        table.wait(0.1)
        followed = table.context.window.followed
        assert followed is None or seen(table).contains(followed.core), name


def seen(table):
    return table.app.picture.view.part(table.clock.now_s())


def click_seen(table, key):
    """Move the mouse until the box of a key is in sight, and click it."""
    click_on_sheet(table, next(box for box, press in table.context.window._boxes if press.key == key).center)


def click_on_sheet(table, point):
    """Bring a point into view and go there; what was said below it goes away, and the mouse may move the view on."""
    bring_into_view(table, point)
    for click in (False, True):
        part = seen(table)
        at = (point[0] - part.left, point[1] - part.top)
        if click:
            table.click(at)
        else:
            table.app.step([motion(at, button=False)])


def bring_into_view(table, point):
    """Move the mouse to the edges beyond which a point of the sheet lies, as long as it does."""
    for _ in range(200):
        part = seen(table).inflate(-40, -40)
        if part.collidepoint(point):
            return
        x = 2 if point[0] < part.left else 1277 if point[0] >= part.right else 640
        y = 2 if point[1] < part.top else table.app.picture.view.height - 3 if point[1] >= part.bottom else 300
        table.app.step([motion((x, y), button=False)])
        table.wait(0.1)
    raise AssertionError(f"{point} never came into view")
