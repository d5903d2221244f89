"""The first start is the first note: under twenty seconds, without a question, whichever way it is played."""

import pygame
import pytest

from game.desk.kit.note_fill import Fill
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.neck.tuning import Place
from game.player.settings import InstrumentKind
from game.screens.choosing.first_start_screen import SEEN_S, HowToPlay
from game.screens.ink_sheet import ink_sheet
from tests.screens.fake_microphone import FakeMicrophone
from tests.screens.table import Table

C = 60
"""C4 sounds where C5 is written for the guitar (trade)."""
HOME = Place(3, 5)
KEY_4 = 33
"""The usage number of the key with 4 above the letters (USB HID Usage Tables, keyboard page)."""


@pytest.fixture
def first(tmp_path):
    table = Table(tmp_path, from_start=True)
    assert table.screen_name == "FirstStartScreen"
    return table


def at(table, string, fret):
    x, y = table.screen._drawing.neck.middle_of(string, fret)
    return x * table.context.sheet.unit, y * table.context.sheet.unit


def said(table):
    return table.screen._said


def is_read(table):
    """The note turned blue, and after a moment the page was turned over to Today, where it is met and no more."""
    assert table.screen._drawing.fill is Fill.INK
    table.wait(SEEN_S + 0.1)
    ink = ink_sheet(table.context)
    return (table.screen_name, ink.in_ink, ink.in_pencil) == ("TodayScreen", "0 in ink", "1 in pencil")


def test_the_note_played_at_its_home_turns_to_ink_and_the_page_over(first):
    assert first.screen._drawing.fill is Fill.PRINT
    first.play(C, HOME)
    assert is_read(first)


def test_a_click_on_its_place_does_the_same(first):
    first.click(at(first, 3, 5))
    assert is_read(first)


def test_for_a_left_hand_the_neck_lies_the_other_way_round(first):
    right = at(first, 3, 5)
    first.settle(left_handed=True)
    first.app.step([])
    left = at(first, 3, 5)
    assert left[0] != right[0]
    assert at(first, 3, 1)[0] > at(first, 3, 9)[0]
    first.click(left)
    assert is_read(first)


def test_so_does_its_key(first):
    first.key(pygame.K_4, "4", scancode=KEY_4)
    assert is_read(first)


@pytest.mark.parametrize("octave", [0, 12])
def test_a_keyboard_plays_it_in_either_octave(first, octave):
    first.play(C + octave, False)
    assert is_read(first)


def test_another_note_is_named_and_the_page_stays(first):
    first.play(57)
    assert said(first) == "That was A. The C is at the red ring."
    first.click(at(first, 6, 3))
    assert said(first) == "That was G. The C is at the red ring."
    first.wait(3.0)
    assert first.screen_name == "FirstStartScreen"


@pytest.mark.parametrize("place", [(2, 1), (4, 10)])
def test_the_same_note_at_another_place_is_right_but_not_at_home(first, place):
    first.click(at(first, *place))
    assert said(first) == "That is a C, too. Its home is at the red ring."
    assert first.screen._drawing.fill is Fill.PRINT


def test_a_note_that_turns_out_to_be_another_turns_nothing_over(first):
    heard = PlayedNote(started_s=first.clock.now_s(), sounding=C, place=HOME, source="test guitar")
    first.app.note_started(NoteStarted(note=heard, channel=1))
    other = PlayedNote(started_s=heard.started_s, sounding=C - 1, place=Place(3, 4), source="test guitar")
    first.screen.note_revised(NoteRevised(before=heard, after=other, channel=1))
    first.wait(2.0)
    assert first.screen_name == "FirstStartScreen"
    first.play(C, HOME)
    assert is_read(first)


def test_a_door_keeps_the_page_and_settles_how_notes_come_in(first):
    first.settle(instrument=InstrumentKind.KEYBOARD)
    first.click(first.screen._doors[0].center)
    assert first.context.settings.instrument is InstrumentKind.GUITAR
    assert said(first) == "No pickup is heard yet: plug it in."
    first.click(at(first, 3, 5))
    assert is_read(first)


def test_no_digit_opens_a_door(first):
    for key, scancode in ((pygame.K_1, 30), (pygame.K_2, 31), (pygame.K_3, 32)):
        first.key(key, chr(key), scancode=scancode)
    assert first.screen._opened is None
    assert said(first).startswith("That was ")


@pytest.fixture
def plain(first):
    """Before the choice of how a plain guitar is heard, to which its door leads."""
    first.microphone = FakeMicrophone(first)
    first.key(pygame.K_DOWN)
    first.key(pygame.K_RETURN)
    first.microphone.answer(first)
    assert first.screen_name == "MicrophonesScreen"
    return first


def test_on_a_plain_guitar_that_nothing_hears_the_player_says_that_it_was_played(plain):
    plain.key(pygame.K_UP)
    plain.key(pygame.K_RETURN)
    assert plain.screen_name == "FirstStartScreen"
    assert not plain.context.listens
    assert said(plain) == "Found it? Then Enter."
    plain.key(pygame.K_RETURN)
    assert plain.screen_name == "TodayScreen"
    assert plain.context.settings.instrument is InstrumentKind.NO_PICKUP


def test_the_door_of_the_plain_guitar_can_be_clicked_and_chooses_nothing_yet(first):
    FakeMicrophone(first)
    before = first.context.settings
    first.click(first.screen._doors[1].center)
    assert first.screen_name == "MicrophonesScreen"
    assert first.context.settings == before
    first.key(pygame.K_ESCAPE)
    assert first.screen_name == "FirstStartScreen"


def test_a_plain_guitar_that_is_heard_reads_the_first_note(plain):
    plain.key(pygame.K_RETURN)
    assert plain.context.settings.microphone == "an interface"
    for _ in range(3):
        plain.key(pygame.K_RETURN)
    plain.key(pygame.K_RETURN)
    plain.key(pygame.K_RETURN)
    assert plain.screen_name == "FirstStartScreen"
    assert said(plain) == "an interface listens."
    assert plain.screen._opened is HowToPlay.PLAIN
    plain.play(C, False)
    assert is_read(plain)


def test_another_door_closes_the_microphone_again(first):
    first.settle(microphone="an interface")
    first.click(first.screen._doors[0].center)
    assert first.context.settings.microphone == ""


def test_whoever_wants_none_of_it_is_on_today_with_esc_and_sees_it_at_the_next_start_again(first, tmp_path):
    first.key(pygame.K_ESCAPE)
    assert first.screen_name == "TodayScreen"
    assert Table(tmp_path, from_start=True).screen_name == "FirstStartScreen"


def test_whoever_has_played_begins_with_today(first, tmp_path):
    first.click(at(first, 3, 5))
    first.wait(SEEN_S + 0.1)
    assert first.context.session.close() is None
    assert Table(tmp_path, from_start=True).screen_name == "TodayScreen"


def test_an_instrument_that_comes_is_told_beside_the_note(first):
    first.screen.device_found("blue pickup")
    assert said(first) == "blue pickup is heard."
    assert not first.context.message_shown
