"""Text of more than 100 %: the window shows a part of the sheet, which follows, is moved by hand, and comes back."""

import pygame
import pytest

from game.desk.part_in_view import follow_all
from game.music.written import HeadId
from game.player.settings import Settings
from game.screens.enlarged_view import MOST_DOTS, EnlargedView
from game.screens.routes import ToSettings, ToToday
from tests.sampling import sample
from tests.screens.table import Table


@pytest.fixture
def large(tmp_path):
    """The settings at 200 %."""
    table = Table(tmp_path, Settings(text_size=200))
    table.go(ToSettings())
    return table


def glide(table, seconds):
    """Let time go in which only the part in view moves, as the loop draws that."""
    for _ in range(round(seconds * 60)):
        table.clock.advance(1 / 60)
        table.app.picture.draw_view(table.screen)


def part(table):
    """What is seen of the sheet, in its pixels, once it has come to rest."""
    glide(table, 0.5)
    return table.app.picture.view.part(table.clock.now_s())


def move_mouse(table, at, buttons=(0, 0, 0)):
    table.app.step([pygame.event.Event(pygame.MOUSEMOTION, pos=at, rel=(1, 1), buttons=buttons)])


def test_at_100_percent_the_sheet_is_the_window_itself(tmp_path):
    table = Table(tmp_path, Settings())
    view = table.app.picture.view
    assert view.surface is table.app.surface
    assert not view.enlarged
    assert view.on_sheet((700, 500), 0.0) == (700, 500)
    assert not view.move_by_key(pygame.K_RIGHT, 0.0)
    assert table.context.window.seen_px is None


def test_everything_is_drawn_twice_as_large_and_the_window_keeps_its_size(large):
    assert large.app.surface.get_size() == (1280, 720)
    assert large.context.sheet.size == (2560, 1440)
    assert large.context.sheet.unit == 2


@pytest.mark.parametrize(
    ("size", "percent", "dots"),
    sample(
        [
            *(((960, 600), 200, 1), ((1920, 1080), 200, 1), ((2560, 1440), 200, 1), ((3840, 2160), 125, 1)),
            *(((3840, 2160), 150, 2), ((3840, 2160), 200, 2), ((7680, 4320), 200, 2)),
        ],
        by_default=1,
    ),
)
def test_a_sheet_too_large_is_drawn_in_larger_dots(tmp_path, size, percent, dots):
    """A 4K window at 200 % would be a picture of 133 MB."""
    table = Table(tmp_path, Settings())
    table.settle(text_size=percent)
    view = EnlargedView(table.context, pygame.Surface(size))
    assert view.dots == dots
    width, height = view.surface.get_size()
    assert dots == 1 or width * height <= 4 * MOST_DOTS
    assert view.part(0.0).width * dots == size[0]
    assert width * dots == size[0] * percent // 100


def test_what_is_seen_twice_as_large_is_that_part_of_the_sheet(tmp_path):
    table = Table(tmp_path, Settings())
    table.settle(text_size=200)
    window = pygame.Surface((3840, 2160))
    view = EnlargedView(table.context, window)
    view.surface.set_at((101, 57), (255, 0, 0))
    view.show(0.0)
    assert window.get_at((203, 115))[:3] == (255, 0, 0)
    assert view.on_sheet((203, 115), 0.0) == (101, 57)


def test_the_chosen_row_is_brought_into_sight_and_its_value_when_it_is_changed(large):
    for _ in range(6):
        large.key(pygame.K_DOWN)
    row = large.context.window.followed
    seen = part(large)
    assert seen.contains(row.core)
    assert seen.top > 0
    large.key(pygame.K_RIGHT)
    value = large.context.window.followed
    assert value.core.left > row.core.left
    assert part(large).contains(value.core)


def test_another_screen_is_seen_from_its_beginning_at_once(large):
    for _ in range(6):
        large.key(pygame.K_DOWN)
    large.go(ToToday())
    assert large.app.picture.view.part(large.clock.now_s()).topleft == (0, 0)


def test_it_glides_there_and_on_a_still_desk_it_is_there(large):
    before = part(large)
    large.key(pygame.K_RIGHT, mod=pygame.KMOD_LCTRL)
    glide(large, 0.1)
    gliding = large.app.picture.view.part(large.clock.now_s())
    assert before.left < gliding.left < part(large).left
    large.settle(still_desk=True)
    large.key(pygame.K_LEFT, mod=pygame.KMOD_LCTRL)
    assert large.app.picture.view.part(large.clock.now_s()).left == 1280 - 640


def test_ctrl_with_arrows_reaches_every_corner_and_any_other_key_brings_back_what_is_chosen(large):
    chosen, home = large.context.window.followed, part(large)
    for key in (pygame.K_RIGHT, pygame.K_DOWN) * 6:
        large.key(pygame.K_RCTRL, mod=pygame.KMOD_RCTRL)
        large.key(key, mod=pygame.KMOD_RCTRL)
    assert part(large).bottomright == (2560, 1440)
    assert large.context.window.followed == chosen
    large.key(pygame.K_F2)
    assert part(large) == home


def test_the_mouse_near_an_edge_moves_it_to_the_end_and_then_it_rests(large):
    move_mouse(large, (1275, 300))
    glide(large, 3.0)
    assert part(large).right == 2560
    assert not large.app.picture.view.moving(large.clock.now_s())
    move_mouse(large, (600, 2))
    move_mouse(large, (2, 300))
    glide(large, 3.0)
    assert part(large).left == 0


@pytest.mark.parametrize("frame_s", sample([0.03, 0.004, 0.00005], by_default=1))
def test_however_quick_the_frames_the_mouse_moves_it_alike(large, frame_s):
    """The first picture after the mouse may be asked for some microseconds later: no pixel far."""
    part(large)
    large.key(pygame.K_LEFT, mod=pygame.KMOD_LCTRL)
    begins = part(large).left
    move_mouse(large, (1275, 300))
    for _ in range(round(0.06 / frame_s)):
        large.clock.advance(frame_s)
        large.app.picture.draw_view(large.screen)
    assert large.app.picture.view.part(large.clock.now_s()).left - begins == pytest.approx(90, abs=12)


def test_on_a_still_desk_the_mouse_moves_it_half_a_part_at_a_time(large):
    large.settle(still_desk=True)
    seen, begins = [], part(large).left
    move_mouse(large, (2, 300))
    for _ in range(180):
        seen.append(large.app.picture.view.part(large.clock.now_s()).left)
        glide(large, 1 / 60)
    assert list(dict.fromkeys(seen)) == [begins - 640, 0]


def test_the_mouse_stops_it_outside_of_the_window_and_while_a_button_is_held(large):
    home = part(large)
    move_mouse(large, (1275, 300), buttons=(1, 0, 0))
    assert part(large) == home
    move_mouse(large, (1275, 300))
    glide(large, 0.1)
    large.app.step([pygame.event.Event(pygame.WINDOWLEAVE)])
    assert home.left < part(large).left < 1280


def test_a_note_that_is_played_brings_back_what_is_read(tmp_path):
    table = Table(tmp_path, Settings(text_size=200), guitar=True)
    table.open("F4 q, G4 q, A4 h")
    home = part(table)
    table.key(pygame.K_DOWN, mod=pygame.KMOD_LCTRL)
    assert part(table) != home
    table.play(53)
    assert part(table) == home


def test_what_is_to_be_followed_on_a_page_is_the_reading_mark_with_what_is_ahead(tmp_path):
    table = Table(tmp_path, Settings(text_size=200), guitar=True)
    table.open("F4 q, G4 q, A4 h", "C5 w")
    music = table.screen.view.music
    assert table.context.window.followed == music.followed
    assert part(table).contains(music.followed.core)
    assert music.followed.core.left < music.note_box(HeadId(0, 0)).head.left


def test_another_text_size_is_there_with_the_next_picture(large):
    large.settle(text_size=150)
    large.app.step([])
    assert large.context.sheet.size == (1920, 1080)
    large.settle(text_size=100)
    large.app.step([])
    assert large.app.picture.view.surface is large.app.surface
    assert large.context.sheet.size == (1280, 720)


def test_nothing_to_follow_leaves_the_part_where_it_is(large):
    view, window = large.app.picture.view, large.context.window
    screen = object()
    window.follow(pygame.Rect(1500, 900, 200, 100))
    view.follow(screen, 0.0)
    there = view.part(0.0)
    assert there.contains(follow_all(pygame.Rect(1500, 900, 200, 100)).most)
    window.followed = None
    view.follow(screen, 0.1)
    assert view.part(0.1) == there
