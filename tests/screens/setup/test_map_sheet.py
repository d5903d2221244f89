"""Where the notes and places of the map stand."""

from itertools import pairwise

import pygame
import pytest

from game.coach.notes.ink_of_map import ink_of_map
from game.coach.notes.mastery import Mastery
from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.desk.theme import NIGHT
from game.music.names import NoteNames
from game.music.score import Reading
from game.neck.hand import FrettingHand
from game.neck.neck_map import standard_map
from game.neck.tuning import TUNINGS, Place, tuning_named
from game.screens.setup.map_choice import LookedAt
from game.screens.setup.map_sheet import MapSheet
from tests.sampling import sample


def sheet_of(neck_map, **changes):
    ink = ink_of_map(Mastery(), neck_map, 1)
    return MapSheet(**{"size": (1280, 720), "neck_map": neck_map, "ink": ink, "looked": None, **changes})


def drawn_heads(sheet, names=NoteNames.SOLFEGE):
    pygame.display.init()
    pygame.font.init()
    canvas = Canvas(pygame.Surface((1280, 720)), Sheet((1280, 720)), NIGHT)
    heads = sheet.draw_staff(canvas)
    sheet.draw_neck(canvas, names)
    return heads


@pytest.mark.parametrize("tuning", sample(TUNINGS, by_default=5))
@pytest.mark.parametrize("reading", Reading)
@pytest.mark.parametrize("position", sample([1, 5, 10, 19], by_default=2))
def test_every_note_has_room_between_title_and_neck_in_each_tuning_and_octave(tuning, reading, position):
    neck_map = standard_map(tuning=tuning_named(tuning), reading=reading, position=position)
    sheet = sheet_of(neck_map)
    heads = drawn_heads(sheet)
    assert len(heads) == len(neck_map.homes)
    assert all(y - 0.5 * sheet.staff.space >= 160 and y + 0.5 * sheet.staff.space <= 312 for _, y in heads)
    assert all(x < other and other - x > sheet.staff.space for (x, _), (other, _) in pairwise(heads))


def test_each_head_and_each_place_is_found_where_it_is_drawn():
    neck_map = standard_map()
    for left_handed in (False, True):
        sheet = sheet_of(neck_map, left_handed=left_handed)
        heads = drawn_heads(sheet)
        for home, head in zip(neck_map.homes, heads, strict=True):
            assert sheet.pitch_at(head, heads) == home.sounding
            assert sheet.place_at(sheet.neck.middle_of(home.place.string, home.place.fret)) == home.place
        assert sheet.pitch_at((600, 700), heads) is None
        assert sheet.place_at((600, 340)) is None


def test_the_nut_is_clicked_for_an_open_string():
    sheet = sheet_of(standard_map(), more=True)
    assert sheet.place_at(sheet.neck.middle_of(6, 0)) == Place(6, 0)


@pytest.mark.parametrize("position", range(1, 20))
def test_nine_positions_are_in_sight_the_present_one_among_them_each_found_by_its_numeral(position):
    sheet = sheet_of(standard_map(position=position))
    assert len(sheet.positions) == 9
    assert position in sheet.positions
    assert [sheet.position_at((sheet.numeral_x(one), sheet.numerals_y - 8)) for one in sheet.positions] == list(
        sheet.positions
    )
    assert sheet.position_at((60, sheet.numerals_y)) is None


def test_places_out_of_sight_are_marked_at_the_end_of_their_string_on_the_side_where_they_lie():
    for left_handed, lower, higher in ((False, 54, 856), (True, 856, 54)):
        sheet = sheet_of(standard_map(), looked=LookedAt(59), left_handed=left_handed)
        marks = dict(sheet.beside)
        assert {place: x for place, (x, _) in marks.items()} == {
            Place(2, 0): lower,
            Place(5, 14): higher,
            Place(6, 19): higher,
        }
        assert all(sheet.place_at(at) == place for place, at in marks.items())
        assert all(at[1] == sheet.neck.string_y(place.string) for place, at in marks.items())


@pytest.mark.parametrize("frets", [4, 12, 30])
def test_the_shortest_neck_and_the_longest_have_their_map(frets):
    for position in {1, frets - 3}:
        sheet = sheet_of(standard_map(frets=frets, position=position), more=True)
        assert drawn_heads(sheet)
        assert position in sheet.positions
        assert sheet.neck.last <= frets


def test_in_a_window_on_its_side_the_neck_is_no_higher_than_can_be_read():
    sheet = sheet_of(standard_map(), size=(1280, 2276), foot=2180.0)
    assert sheet.neck.height <= 330
    assert sheet.numerals_y < 760


@pytest.mark.parametrize(("span", "highest"), [(3, 20), (4, 19), (5, 18)])
def test_the_last_position_is_the_one_in_which_every_finger_of_the_hand_has_a_fret(span, highest):
    neck_map = standard_map(position=17, frets=22, hand=FrettingHand(span=span))
    sheet = sheet_of(neck_map)
    assert sheet.positions[-1] == highest
    assert sheet.neck.span == span


def test_in_the_largest_text_a_note_and_its_place_are_seen_at_once_unless_they_are_half_a_sheet_apart():
    """A window of 1280 by 720 shows half of the sheet, less the strip at its foot, at 200 %."""
    neck_map = standard_map()
    wide = []
    for home in neck_map.homes:
        sheet = sheet_of(neck_map, looked=LookedAt(home.sounding))
        most, _ = sheet.followed(drawn_heads(sheet))
        assert most[3] <= 305
        wide += [home.sounding] if most[2] > 640 else []
    assert wide == [68, 69, 70]
