"""Several maps side by side: chosen, used, named, copied, withdrawn, and joined with a second region."""

import pygame
import pytest

from game.music.names import NoteNames
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place
from game.player.settings import Settings
from game.screens.routes import ToMaps
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.told_keys import told_keys

NINE = standard_map(position=9)


@pytest.fixture
def maps(table):
    return table.context.session.maps


def names(table):
    return [column.named.name for column in table.screen.columns]


def keys(table):
    table.picture()
    return told_keys(table.context.window.told_keys)


def type_name(table, name):
    for _ in range(60):
        table.key(pygame.K_BACKSPACE)
    for letter in name:
        table.key(0, letter)
    table.key(pygame.K_RETURN)


def test_one_map_stands_alone_and_leads_back_to_the_map(table):
    table.go(ToMaps())
    assert names(table) == ["Position V"]
    assert "choose" not in keys(table).values()
    assert "take out" not in keys(table).values()
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MapScreen"


def test_another_map_is_chosen_and_used_and_the_first_stays(table, maps):
    maps.keep("high up", NINE)
    table.go(ToMaps())
    table.key(pygame.K_RIGHT)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MapsScreen"
    assert table.context.settings.position == 9
    assert [column.in_use for column in table.screen.columns] == [False, True]
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MapScreen"


def test_each_map_says_what_it_means_for_the_shelf_and_how_far_its_ink_is(table, maps):
    maps.keep("high up", NINE)
    table.go(ToMaps())
    five, nine = (list(column.told(NoteNames.ENGLISH)) for column in table.screen.columns)
    assert five[0] != nine[0]
    assert [column.figures.on_map_share > 0.9 for column in table.screen.columns] == [True, True]
    assert five[2].startswith("ink 0")


def test_a_name_is_typed_one_that_is_taken_is_refused_and_esc_leaves_it(table, maps):
    maps.keep("high up", NINE)
    table.go(ToMaps())
    table.key(pygame.K_r)
    assert table.screen.typing
    type_name(table, "high up")
    assert table.screen.typing
    assert "choose another name" in table.context.window.message
    type_name(table, "at home")
    assert names(table) == ["at home", "high up"]
    table.key(pygame.K_r)
    table.key(pygame.K_ESCAPE)
    assert names(table) == ["at home", "high up"]
    table.key(pygame.K_r)
    type_name(table, "")
    assert names(table) == ["Position V", "high up"]


def test_letters_of_a_name_are_no_commands(table):
    table.go(ToMaps())
    table.key(pygame.K_r)
    for letter in "xTR":
        table.key(ord(letter.lower()), letter)
    assert table.screen.typed == "Position VxTR"
    assert table.screen.joining is None


def test_a_copy_has_a_name_of_its_own_and_nothing_in_use_changes(table, maps):
    maps.keep("n" * 40, NINE)
    table.go(ToMaps())
    for _ in range(3):
        table.key(pygame.K_INSERT)
        table.key(pygame.K_LEFT)
    assert len(set(names(table))) == 5
    assert all(len(name) <= 40 for name in names(table))
    assert table.context.settings == Settings()


def test_withdrawing_asks_first_and_never_takes_the_one_in_use(table, maps):
    maps.keep("high up", NINE)
    table.go(ToMaps())
    table.key(pygame.K_DELETE)
    assert not table.screen.asked
    table.key(pygame.K_RIGHT)
    table.key(pygame.K_DELETE)
    assert table.screen.asked
    table.key(pygame.K_ESCAPE)
    assert names(table) == ["Position V", "high up"]
    table.key(pygame.K_DELETE)
    table.key(pygame.K_RETURN)
    assert names(table) == ["Position V"]


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_of_twelve_maps_the_chosen_one_is_in_sight_and_a_click_chooses(tmp_path, size):
    table = Table(tmp_path, size=size)
    for position in range(1, 13):
        table.context.session.maps.keep("", standard_map(position=position))
    table.go(ToMaps())
    unit = table.context.sheet.unit
    for _ in names(table):
        table.key(pygame.K_RIGHT)
        sheet = table.screen._sheet(500)
        assert sheet.first <= table.screen.chosen < sheet.first + sheet.shown
    seen = table.screen._sheet(500)
    table.click(((seen.left_of(seen.first + 1) + 20) * unit, 300 * unit))
    assert table.screen.chosen == seen.first + 1


def test_a_second_region_is_looked_at_with_its_seam_and_kept_as_one_more_map(table):
    table.go(ToMaps())
    table.key(pygame.K_x)
    joining = table.screen.joining
    assert (joining.position, joining.as_proposed) == (9, True)
    table.key(pygame.K_RIGHT)
    table.key(pygame.K_LEFT)
    table.key(pygame.K_UP)
    assert table.screen.joining.seam == joining.seam + 1
    assert table.context.settings == Settings()
    table.picture()
    table.key(pygame.K_RETURN)
    assert names(table) == ["Position V", "Positions V and IX"]
    assert table.screen.map.neck_map.second == SecondRegion(position=9, seam=joining.seam + 1)
    assert table.context.settings == Settings()
    table.key(pygame.K_RETURN)
    assert table.context.settings.second == (9, joining.seam + 1)


def test_what_came_from_another_computer_is_shown_and_a_map_that_is_gone_is_said(table, maps):
    nine = maps.keep("high up", NINE)
    table.go(ToMaps())
    table.key(pygame.K_RIGHT)
    maps.withdraw(nine.id)
    table.key(pygame.K_RETURN)
    assert "no longer kept" in table.context.window.message
    assert names(table) == ["Position V"]
    maps.keep("other", standard_map(position=7))
    table.screen.read_anew()
    assert names(table) == ["Position V", "other"]


def test_homes_moved_by_hand_go_with_their_map(table, maps):
    table.context.change_settings(Settings(choices={59: (4, 9)}))
    maps.keep("high up", NINE)
    table.go(ToMaps())
    for key in (pygame.K_RIGHT, pygame.K_RETURN, pygame.K_LEFT):
        table.key(key)
    assert table.context.settings.choices == {}
    table.key(pygame.K_RETURN)
    assert table.context.settings.neck_map().home_of(59).place == Place(4, 9)
