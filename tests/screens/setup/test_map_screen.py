"""The map is looked at by mouse, keys and guitar; a home is moved only when that was asked."""

from dataclasses import replace
from pathlib import Path

import pygame
import pytest

from game.audio.sound import Sound
from game.neck.hand import UNSTRETCHED
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place
from game.player import player_maps
from game.player.settings import Settings, Stretches
from game.player.settings_file import load
from game.screens.routes import ToMap, ToToday
from game.screens.setup import shown_map
from game.screens.setup.map_choice import LookedAt
from game.tunes.library.library import shipped_entries
from tests.sampling import only_where_all_is_run, sample
from tests.screens.table import Table

SIZES = [(960, 600), (1280, 720), (3840, 2160)]
B, OTHER = 59, Place(4, 9)


@pytest.fixture
def table(table):
    table.go(ToMap())
    return table


@pytest.fixture
def heard(monkeypatch):
    """What was plucked."""
    plucked = []
    monkeypatch.setattr(Sound, "pluck", lambda _, sounding: plucked.append(sounding))
    return plucked


def place_px(table, place):
    """The pixel of a place of the neck."""
    unit = table.context.sheet.unit
    x, y = table.screen.shown.sheet(table.screen.shown.foot).neck.middle_of(place.string, place.fret)
    return x * unit, y * unit


def head_px(table, sounding):
    """The pixel of a written note."""
    screen, unit = table.screen, table.context.sheet.unit
    number = [home.sounding for home in screen.shown.neck_map.homes].index(sounding)
    x, y = screen.shown.heads[number]
    return x * unit, y * unit


def home(table, sounding=B):
    return table.context.settings.neck_map().home_of(sounding).place


@pytest.mark.parametrize("size", sample(SIZES, by_default=1))
@pytest.mark.parametrize("left_handed", sample([False, True], by_default=1))
def test_a_click_on_a_note_or_on_its_place_shows_both_and_lets_it_be_heard(tmp_path, heard, size, left_handed):
    table = Table(tmp_path, Settings(left_handed=left_handed), size=size)
    table.go(ToMap())
    for sounding in (44, 57, B, 73):
        table.click(head_px(table, sounding))
        assert table.screen.shown.looked.sounding == sounding
        table.screen.shown.looked = None
        table.click(place_px(table, home(table, sounding)))
        assert table.screen.shown.looked.sounding == sounding
    assert heard == [44, 44, 57, 57, B, B, 73, 73]
    assert table.context.settings.choices == {}


def test_clicking_another_place_picks_it_and_clicking_the_home_shows_the_note_alone(table):
    table.click(place_px(table, OTHER))
    assert table.screen.shown.looked == LookedAt(B, OTHER)
    table.click(place_px(table, Place(3, 4)))
    assert table.screen.shown.looked == LookedAt(B)
    assert home(table) == Place(3, 4)


def test_playing_only_shows_and_enter_at_a_home_leads_back_to_today(table):
    table.play(B, OTHER)
    assert table.screen.shown.looked == LookedAt(B, OTHER)
    table.play(B)
    assert table.screen.shown.looked == LookedAt(B)
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
    assert table.context.settings.choices == {}


def test_moving_a_home_is_asked_once_says_what_moves_and_is_taken_back_and_done_again(table):
    table.click(place_px(table, OTHER))
    table.key(pygame.K_RETURN)
    assert "notes of your shelf move" in table.screen.shown.asked.told
    assert home(table) == Place(3, 4)
    table.key(pygame.K_ESCAPE)
    assert (table.screen_name, table.screen.shown.asked, home(table)) == ("MapScreen", None, Place(3, 4))
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    assert (table.screen.shown.asked, home(table)) == (None, OTHER)
    assert load(table.context.session.profile.settings_path).settings.choices == {B: (4, 9)}
    table.key(pygame.K_BACKSPACE)
    assert home(table) == Place(3, 4)
    table.key(pygame.K_y)
    assert home(table) == OTHER


def test_one_home_is_moved_with_both_hands_on_the_guitar(table):
    """Its new place is plucked, and the free string asks and says yes."""
    table.play(B, OTHER)
    table.pluck_free_string(1)
    assert table.screen.shown.asked
    assert home(table) == Place(3, 4)
    table.play(57)
    assert table.screen.shown.looked == LookedAt(B, OTHER)
    table.pluck_free_string(1)
    assert (table.screen.shown.asked, home(table)) == (None, OTHER)
    assert len({one.sounding for one in table.screen.shown.neck_map.homes}) == len(table.screen.shown.neck_map.homes)


def test_what_was_changed_is_taken_back_after_another_sheet_was_looked_at(table):
    table.play(B, OTHER)
    for _ in range(2):
        table.key(pygame.K_RETURN)
    table.go(ToToday())
    table.go(ToMap())
    table.key(pygame.K_BACKSPACE)
    assert home(table) == Place(3, 4)


def test_what_the_change_means_for_the_shelf_is_told_before_it_and_after_it(table):
    table.key(pygame.K_2)
    before, after = table.screen.shown.asked_figures
    assert (before.homeless, after.stretches) == (0, 0)
    assert after.homeless > 0
    assert after.wholly < before.wholly
    table.key(pygame.K_RETURN)
    assert table.screen.shown.before == before
    assert table.screen.shown.counted.figures(table.screen.shown.neck_map) == after


def test_stretches_and_open_strings_are_one_key_away_with_their_caution_and_back(table):
    table.key(pygame.K_2)
    assert "doctor" in table.screen.shown.asked.caution
    table.key(pygame.K_RETURN)
    assert table.context.settings.stretches is Stretches.NONE
    assert not any(one.stretch for one in table.screen.shown.neck_map.homes)
    table.key(pygame.K_2)
    table.key(pygame.K_RETURN)
    assert table.context.settings.stretches is Stretches.BOTH
    table.key(pygame.K_3)
    table.key(pygame.K_RETURN)
    assert table.context.settings.open_strings
    for _ in range(3):
        table.key(pygame.K_BACKSPACE)
    assert table.context.settings.neck_map() == Settings().neck_map()


def test_keys_of_the_whole_map_wait_until_no_note_is_looked_at(table):
    table.click(place_px(table, OTHER))
    for key in (pygame.K_1, pygame.K_2, pygame.K_3, pygame.K_4):
        table.key(key)
        assert (table.screen.shown.asked, table.screen.shown.best) == (None, None)
    table.key(pygame.K_ESCAPE)
    assert (table.screen_name, table.screen.shown.looked) == ("MapScreen", None)
    table.key(pygame.K_1)
    assert table.screen.shown.best


def test_the_best_position_is_chosen_asked_for_and_taken_back(table):
    table.key(pygame.K_1)
    table.key(pygame.K_DOWN)
    wanted = table.screen.shown.best.best.neck_map
    table.pluck_free_string(1)
    assert table.screen.shown.asked
    table.key(pygame.K_ESCAPE)
    assert (table.screen.shown.asked, table.screen.shown.best.best.neck_map) == (None, wanted)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    assert (table.screen.shown.best, table.screen.shown.neck_map.places) == (None, wanted.places)
    table.key(pygame.K_BACKSPACE)
    assert table.context.settings.position == 5


def test_a_row_of_the_positions_is_clicked_and_what_is_played_meanwhile_changes_nothing(table):
    table.key(pygame.K_1)
    unit = table.context.sheet.unit
    table.click((110 * unit, (330 + 3 * 34 - 8) * unit))
    assert table.screen.shown.best.chosen == 2
    table.play(B)
    assert table.screen.shown.looked is None
    table.key(pygame.K_ESCAPE)
    assert (table.screen_name, table.screen.shown.best) == ("MapScreen", None)


def test_a_second_region_goes_when_the_position_is_left_and_comes_back(table):
    table.settle(second=(9, 66))
    table.key(pygame.K_RIGHT)
    assert "is kept with what you chose" in table.context.window.message
    assert (table.context.settings.position, table.context.settings.second) == (6, None)
    table.key(pygame.K_BACKSPACE)
    assert (table.context.settings.position, table.context.settings.second) == (5, (9, 66))
    table.key(pygame.K_DELETE)
    table.key(pygame.K_RETURN)
    assert table.context.settings.second is None


@only_where_all_is_run("it waits for charts")
def test_the_chart_is_drawn_beside_the_picture_and_it_is_said_where_it_lies(table, monkeypatch, tmp_path):
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    table.key(pygame.K_4)
    assert not table.screen.moving, "sixty pictures a second would keep the drawing waiting"
    table.screen._printing.wait()
    table.wait(0.1)
    assert "homefret-V.pdf" in table.context.window.message
    monkeypatch.setattr(Path, "home", lambda: tmp_path / "gone")
    table.key(pygame.K_4)
    table.screen._printing.wait()
    table.wait(0.1)
    assert "could not be written" in table.context.window.message


def test_tunes_counted_by_an_older_program_are_counted_beside_the_picture(table, monkeypatch):
    old = [replace(one, pairs="") for one in shipped_entries()[:5]]
    monkeypatch.setattr(shown_map, "shelf", lambda: tuple(old))
    table.go(ToMap())
    table.key(pygame.K_UP)
    assert table.screen.shown.shelf
    table.picture()
    assert table.screen.shown.counted.counts.pairs


def test_by_microphone_the_card_says_that_a_place_is_clicked_or_chosen(table):
    table.settle(microphone="in")
    table.play(B, place=False)
    assert table.screen.shown.looked == LookedAt(B)
    table.key(pygame.K_TAB)
    assert table.screen.shown.looked == LookedAt(B, OTHER)


def test_a_pitch_that_was_only_heard_and_has_no_home_is_shown_too(table):
    table.play(74, place=False)
    assert table.screen.shown.looked == LookedAt(74)


def test_what_was_asked_is_answered_by_a_click_on_the_corner_and_no_click_elsewhere_does_anything(table):
    table.click(place_px(table, OTHER))
    corner = {press.key: box for box, press in table.context.window._boxes}[pygame.K_RETURN]
    table.click(corner.center)
    table.click(place_px(table, Place(1, 5)))
    assert table.screen.shown.looked == LookedAt(B, OTHER)
    assert table.screen.shown.asked
    corner = {press.key: box for box, press in table.context.window._boxes}[pygame.K_RETURN]
    table.click(corner.center)
    assert home(table) == OTHER


def test_a_moved_note_that_was_in_ink_is_pencil_at_its_new_home(table):
    table.open("B4 q, B4 q, B4 q, B4 q")
    table.play_through(each_s=0.4)
    table.go(ToMap())
    before = table.screen.shown.sheet(600).ink.at(Place(3, 4))
    assert before.value != "not met"
    table.click(place_px(table, OTHER))
    for key in (pygame.K_RETURN, pygame.K_RETURN):
        table.key(key)
    assert table.screen.shown.sheet(600).ink.at(OTHER).value == "pencil"


def test_arrows_alone_go_through_all_notes_by_pitch_and_through_the_positions(table):
    seen = []
    for _ in table.screen.shown.neck_map.homes:
        table.key(pygame.K_UP)
        seen.append(table.screen.shown.looked.sounding)
    assert seen == [one.sounding for one in table.screen.shown.neck_map.homes]
    table.key(pygame.K_DOWN)
    assert table.screen.shown.looked.sounding == seen[-2]
    table.key(pygame.K_RIGHT)
    assert table.context.settings.position == 6


def test_tab_goes_through_the_other_places_of_a_note_wherever_on_the_neck(table):
    table.click(place_px(table, Place(3, 4)))
    seen = set()
    for _ in range(6):
        seen.add(table.screen.shown.looked.other)
        table.key(pygame.K_TAB)
        if table.screen.shown.looked.other:
            x, _ = place_px(table, table.screen.shown.looked.other)
            assert 70 <= x <= 840
    assert seen == {None, OTHER, Place(2, 0), Place(5, 14), Place(6, 19)}


def test_a_position_is_gone_to_by_its_numeral_and_backspace_comes_back(table):
    screen = table.screen
    sheet = screen.shown.sheet(screen.shown.foot)
    table.click((sheet.numeral_x(7), sheet.numerals_y - 8))
    assert table.context.settings.position == 7
    table.key(pygame.K_BACKSPACE)
    assert table.context.settings.position == 5


def test_a_map_with_homes_chosen_by_hand_is_left_without_asking_for_it_is_kept_and_gone_to_again(table):
    table.settle(choices={B: (4, 9)})
    table.key(pygame.K_RIGHT)
    assert (table.screen.shown.asked, table.context.settings.position, table.context.settings.choices) == (None, 6, {})
    assert "Position V is kept" in table.context.window.message
    table.key(pygame.K_LEFT)
    assert (table.context.settings.position, table.context.settings.choices) == (5, {B: (4, 9)})
    assert "Position V is in use" in table.context.window.message
    for position, choices in ((6, {}), (5, {B: (4, 9)})):
        table.key(pygame.K_BACKSPACE)
        assert (table.context.settings.position, table.context.settings.choices) == (position, choices)
    table.key(pygame.K_y)
    assert table.context.settings.position == 6
    assert table.context.session.maps.all[0].name == "Position V"


def test_a_position_with_a_kept_map_is_that_map_with_its_hand_and_its_homes(table):
    maps = table.context.session.maps
    nine = maps.keep("high up", standard_map(position=9, hand=UNSTRETCHED, choices={73: Place(2, 14)}))
    screen = table.screen
    table.settle(choices={B: (4, 9)})
    sheet = screen.shown.sheet(screen.shown.foot)
    table.click((sheet.numeral_x(9), sheet.numerals_y - 8))
    assert screen.shown.asked is None
    assert maps.current.id == nine.id
    assert table.context.settings.stretches is Stretches.NONE
    table.key(pygame.K_BACKSPACE)
    assert (table.context.settings.position, table.context.settings.choices) == (5, {B: (4, 9)})
    assert table.context.settings.stretches is Stretches.BOTH


def test_homes_chosen_by_hand_are_asked_about_where_no_more_maps_are_kept(table, monkeypatch):
    monkeypatch.setattr(player_maps, "MOST_MAPS", 0)
    table.settle(choices={B: (4, 9)})
    table.key(pygame.K_RIGHT)
    assert table.context.settings.position == 5
    assert "The home chosen by hand belongs to position V" in table.screen.shown.asked.told
    table.key(pygame.K_RETURN)
    assert (table.context.settings.position, table.context.settings.choices) == (6, {})


def test_delete_puts_all_homes_back_once_that_was_asked(table):
    table.settle(choices={B: (4, 9), 64: (2, 5)})
    table.key(pygame.K_DELETE)
    table.key(pygame.K_RETURN)
    assert table.context.settings.choices == {}


def test_the_position_stops_at_the_ends_of_the_neck_and_says_so(table):
    for _ in range(8):
        table.key(pygame.K_LEFT)
    assert table.context.settings.position == 1
    assert "position 0 is not on this neck" in table.context.window.message.lower()


def test_a_ghost_is_not_shown_and_what_is_played_from_bottom_to_top_is(table, pickup):
    table.go(ToMap())
    pickup.pluck(Place(3, 2), lasts_s=0.001)
    assert table.screen.shown.looked is None
    for place in (Place(string, fret) for string in (6, 5) for fret in (7, 8, 9)):
        pickup.pluck(place)
        assert table.screen.shown.looked.sounding == STANDARD.sounding(place)


def test_a_keyboard_shows_a_note_by_its_pitch(table):
    table.play(B, place=False)
    assert table.screen.shown.looked.sounding == B


@pytest.mark.parametrize("position", sample([1, 5, 12, 19], by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_in_every_position_nothing_that_is_clicked_overlaps_and_all_of_it_is_in_the_window(tmp_path, size, position):
    table = Table(tmp_path, Settings(position=position, choices={}), size=size)
    table.go(ToMap())
    keys = (pygame.K_1, pygame.K_RETURN, pygame.K_ESCAPE, pygame.K_ESCAPE, pygame.K_2, pygame.K_ESCAPE)
    for key in (*keys, pygame.K_UP, *[pygame.K_DOWN] * 9, pygame.K_TAB, pygame.K_F12, pygame.K_RETURN):
        table.key(key)
        boxes = [box for box, _ in table.context.window._boxes]
        assert all(box.collidelistall(boxes) == [number] for number, box in enumerate(boxes))
        assert all(table.app.surface.get_rect().contains(box) for box in boxes)
        sheet = table.screen.shown.sheet(table.screen.shown.foot)
        assert sheet.neck.top + sheet.neck.height + 20 < sheet.numerals_y - 20
        assert max(y for _, y in table.screen.shown.heads) < sheet.neck.top - 30


def test_the_free_string_leads_back_to_today_and_every_other_note_is_shown(table):
    table.play(57)
    assert table.screen.shown.looked.sounding == 57
    table.pluck_free_string(1)
    assert table.screen_name == "TodayScreen"


@pytest.mark.parametrize(("key", "screen"), [(pygame.K_5, "MapsScreen"), (pygame.K_6, "MapByPlayingScreen")])
def test_the_other_sheets_of_maps_are_one_key_away_from_the_whole_map(table, key, screen):
    table.key(key)
    assert table.screen_name == screen
