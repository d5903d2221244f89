"""Keys of every page change how pages look, within the bounds of the settings."""

import pygame
import pytest

from game.player.settings import Look, MusicFace, Settings
from game.player.settings_file import load
from game.screens.look_keys import change_look
from tests.screens.table import Table


@pytest.fixture
def context(tmp_path):
    return Table(tmp_path).context


def pressed(context, key, kind=pygame.KEYDOWN):
    return change_look(pygame.event.Event(kind, key=key, unicode="", mod=0, scancode=0), context)


@pytest.mark.parametrize(
    ("key", "settled"),
    [
        (pygame.K_F2, {"look": Look.NIGHT}),
        (pygame.K_F3, {"music_face": MusicFace.HANDWRITTEN}),
        (pygame.K_F6, {"staff_space_px": 24}),
        (pygame.K_F7, {"staff_space_px": 28}),
    ],
)
def test_a_key_changes_its_setting_for_good(context, key, settled):
    assert pressed(context, key)
    assert load(context.session.profile.settings_path).settings == context.settings == Settings(**settled)


@pytest.mark.parametrize("key", [pygame.K_F2, pygame.K_F3])
def test_pressed_twice_it_is_as_before(context, key):
    pressed(context, key)
    pressed(context, key)
    assert context.settings == Settings()


@pytest.mark.parametrize(("key", "end"), [(pygame.K_F6, 16), (pygame.K_F7, 48)])
def test_the_staff_grows_and_shrinks_to_the_ends_that_the_file_may_hold(context, key, end):
    for _ in range(30):
        pressed(context, key)
    assert context.settings.staff_space_px == end
    assert load(context.session.profile.settings_path).faults == ()


@pytest.mark.parametrize(("key", "kind"), [(pygame.K_F4, pygame.KEYDOWN), (pygame.K_F2, pygame.KEYUP)])
def test_other_keys_and_their_release_are_left_to_the_page(context, key, kind):
    assert not pressed(context, key, kind)
    assert context.settings == Settings()
