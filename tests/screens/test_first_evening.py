"""A first evening from the first note over Today and a step of it to good night: by mouse, keys or guitar alone."""

import pygame
import pytest

from game.neck.tuning import Place
from game.screens.choosing.first_start_screen import SEEN_S
from game.screens.choosing.today_sheet import RowState
from tests.sampling import sample
from tests.screens.table import Table

KEY_ROWS = ((30, 31, 32, 33, 34, 35), (20, 26, 8, 21, 23, 28), (4, 22, 7, 9, 10, 11), (29, 27, 6, 25, 5, 17))
"""Usage numbers (USB HID Usage Tables, keyboard page) of the keys that are the four frets of the position, each from
string 6 to string 1.
"""


class ByMouse:
    """Clicks, and nothing else."""

    def __init__(self, table):
        self.table = table

    def first_note(self):
        x, y = self.table.screen._drawing.neck.middle_of(3, 5)
        self.table.click((x * self.table.context.sheet.unit, y * self.table.context.sheet.unit))

    def note(self, place):
        self.table.click(self.table.screen.view.neck.centre_of(place))

    def press(self, key):
        boxes = [box for box, press in self.table.context.window._boxes if press.key == key]
        assert boxes, f"nothing to click for {pygame.key.name(key)} on {self.table.screen_name}"
        self.table.click(boxes[-1].center)

    def on(self):
        self.press(pygame.K_RETURN)

    def back(self):
        self.press(pygame.K_ESCAPE)


class ByKeys(ByMouse):
    """Keys, and nothing else."""

    def first_note(self):
        self.note(Place(3, 5))

    def note(self, place):
        self.table.key(0, scancode=KEY_ROWS[place.fret - 5][6 - place.string])

    def press(self, key):
        self.table.key(key)


class ByGuitar(ByMouse):
    """Strings, and nothing else."""

    def first_note(self):
        self.table.play(60, Place(3, 5))

    def note(self, place):
        self.table.play(self.table.context.settings.neck_map().tuning.sounding(place), place)

    def on(self):
        self.table.pluck_free_string(1)

    def back(self):
        self.table.pluck_free_string(2)


@pytest.mark.parametrize("by", sample([ByMouse, ByKeys, ByGuitar], by_default=1))
def test_from_the_first_note_to_good_night(tmp_path, by):
    table = Table(tmp_path, from_start=True, guitar=by is ByGuitar)
    hand = by(table)
    hand.first_note()
    table.wait(SEEN_S + 0.1)
    assert table.screen_name == "TodayScreen"
    hand.on()
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.planned
    for note in table.screen.take.expected:
        hand.note(note.home.place)
        table.wait(0.4)
    table.wait(2.0)
    assert table.screen_name == "ResultScreen"
    hand.back()
    assert table.screen_name == "TodayScreen"
    assert table.screen.sheet.rows[0].state is RowState.BEGUN
    hand.back()
    assert table.screen_name == "GoodNightScreen"
    assert table.screen._sheet.played.endswith("two takes")
    hand.back()
    assert not table.app.running


@pytest.mark.parametrize("by", sample([ByMouse, ByKeys, ByGuitar], by_default=1))
def test_out_of_a_step_in_which_nothing_was_played_one_is_back_on_today(tmp_path, by):
    table = Table(tmp_path, from_start=True, guitar=by is ByGuitar)
    hand = by(table)
    hand.first_note()
    table.wait(SEEN_S + 0.1)
    hand.on()
    table.wait(1.0)
    hand.back()
    assert table.screen_name == "TodayScreen"
