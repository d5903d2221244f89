"""The keys that mean the same on every page."""

import pygame
import pytest

from game.desk.theme import NIGHT
from game.player.settings import InstrumentKind, Settings
from game.practice.take_request import TakeRequest
from game.screens.key_hints import KeyPress
from game.screens.reading.page_keys import foot_keys, free_string_keys, key_meant, neck_key
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.timed_pages import ROWS, free_page, metronome_page
from tests.screens.told_keys import told_keys


def test_the_bars_can_be_fewer_or_more(table):
    page = metronome_page(table)
    table.key(pygame.K_LEFTBRACKET, "[")
    assert len(table.screen.request.passage.bars) == len(page.request.passage.bars) - 1
    table.key(pygame.K_RIGHTBRACKET, "]")
    assert len(table.screen.request.passage.bars) == len(page.request.passage.bars)


def test_the_bridge_gives_each_written_note_a_click_and_leads_back(table):
    table.open(*ROWS, key=-1)
    table.key(pygame.K_PERIOD, ".")
    assert table.screen.request.one_a_click
    assert table.screen.request.tempo_bpm == 50
    table.key(pygame.K_PERIOD, ".")
    assert table.screen_name == "PlacesPage"


@pytest.mark.parametrize(
    ("key", "wanted"),
    sample(
        [
            (pygame.K_RIGHT, TakeRequest.moved),
            (pygame.K_TAB, TakeRequest.next_stage),
            (pygame.K_F4, TakeRequest.whole_or_passages),
            (pygame.K_PERIOD, TakeRequest.by_the_click),
        ],
        by_default=1,
    ),
)
def test_a_key_lays_another_page_of_the_same_tune(table, key, wanted):
    request = table.open(*ROWS, *ROWS, *ROWS, *ROWS, key=-1)
    before = table.screen
    table.key(key)
    assert table.screen is not before
    asked = wanted(request, 1) if wanted is TakeRequest.moved else wanted(request)
    assert table.screen.request.passage == asked.passage


def test_before_the_first_passage_there_is_none_and_the_page_stays(table):
    table.open(*ROWS, key=-1)
    page = table.screen
    table.key(pygame.K_LEFT)
    assert table.screen is page


def test_backspace_begins_the_same_page_again(table):
    table.open(*ROWS, key=-1)
    table.play(53)
    page = table.screen
    table.key(pygame.K_BACKSPACE)
    assert table.screen is not page
    assert table.screen.request.passage == page.request.passage
    assert table.screen.take.answered == ()


@pytest.mark.parametrize(
    ("key", "unicode", "meant"),
    [
        (pygame.K_0, "=", pygame.K_EQUALS),
        (pygame.K_PLUS, "+", pygame.K_EQUALS),
        (pygame.K_8, "[", pygame.K_LEFTBRACKET),
        (pygame.K_MINUS, "-", pygame.K_MINUS),
        (pygame.K_PERIOD, "", pygame.K_PERIOD),
        (pygame.K_F4, "", pygame.K_F4),
        (pygame.K_KP_ENTER, "\r", pygame.K_RETURN),
    ],
    ids=(
        "with Shift on 0",
        "on a key of its own",
        "with AltGr on 8",
        "of its own",
        "unwritten",
        "no sign",
        "the other Enter",
    ),
)
def test_a_sign_is_known_wherever_a_keyboard_has_it(key, unicode, meant):
    assert key_meant(KeyPress(key, unicode).event) == meant


@pytest.mark.parametrize("open_page", [metronome_page, free_page, lambda table: table.open(*ROWS, key=-1)])
def test_no_letter_and_no_digit_is_a_command_where_notes_are_played(table, open_page):
    open_page(table)
    page, view = table.screen, table.screen.view
    before = view.neck_shown, view.status, view.music, list(view.marks)
    for sign in "abcdefghijklmnopqrstuvwxyz0123456789":
        table.key(ord(sign), sign)
    assert table.screen is page
    assert (view.neck_shown, view.status, view.music, list(view.marks)) == before
    assert not any(label.isalnum() and len(label) == 1 for hint in view.keys for label in hint.labels)


def test_a_change_of_look_keeps_the_take(table):
    table.open(*ROWS, key=-1)
    table.play(53)
    page = table.screen
    table.key(pygame.K_F2)
    assert table.screen is page
    assert len(page.take.answered) == 1
    assert table.context.theme is NIGHT


def test_the_neck_is_shown_and_hidden(table):
    table.open(*ROWS, key=-1)
    shown = table.screen.view.neck_shown
    table.key(pygame.K_F12)
    assert table.screen.view.neck_shown is not shown


def test_who_has_no_instrument_is_told_the_key_of_the_neck_among_the_first(tmp_path):
    for guitar, kind, told in (
        (False, InstrumentKind.GUITAR, 1),
        (True, InstrumentKind.GUITAR, 0),
        (False, InstrumentKind.NO_PICKUP, 0),
    ):
        table = Table(tmp_path, Settings(instrument=kind), guitar=guitar)
        assert len(neck_key(table.context)) == told
    keys = foot_keys(("F12", "keys.neck"), ("F8", "keys.loop"))
    assert [key.labels for key in keys].count(("F12",)) == 1


def test_the_foot_tells_the_stages_own_keys_the_way_out_and_where_the_others_are_told():
    keys = foot_keys(("F5", "keys.help"), ("F8", "keys.loop"), last=((",", "keys.mute"),))
    at_foot = [key for key in keys if not key.on_sheet_only]
    assert list(told_keys(at_foot).items()) == [
        ("F5", "help"), ("F8", "loop"), ("Esc", "stop"), ("F1 ?", "more keys"),
    ]  # fmt: skip
    assert {"Tab", "F4", "F12", ","} <= told_keys(keys).keys()
    assert keys[2:] == (*foot_keys(last=((",", "keys.mute"),)),)


@pytest.mark.parametrize("open_page", [metronome_page, free_page])
def test_the_key_of_the_still_page_says_what_it_does_next(table, open_page):
    page = open_page(table)
    for words in ("still page", "moving staff", "still page"):
        assert told_keys(page.view.keys)["F10"] == words
        table.key(pygame.K_F10)


def test_who_marks_an_own_guitar_is_told_the_key_that_ends_a_take_at_their_own_pace(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    page = free_page(table)
    assert told_keys(page.view.keys)["Enter"] == "mark it"
    table.key(pygame.K_KP_ENTER)
    assert table.screen_name == "MarkingScreen"


def test_the_first_note_is_told_beside_the_free_string_until_it_has_begun_the_take(tmp_path):
    table = Table(tmp_path, guitar=True)
    page = metronome_page(table)

    def told():
        return [hint.labels[0] for hint in page.view.keys if not hint.presses]

    assert told() == ["the first note", "the open sixth string"]
    assert told_keys(page.view.keys)["Space"] == "begin"
    page.begin()
    assert told() == ["the open sixth string"]
    assert told_keys(page.view.keys)["Space"] == "pause"
    page.pause()
    assert told_keys(page.view.keys)["Space"] == "begin"


def test_the_free_string_is_told_only_to_who_has_a_guitar_and_a_string_free(tmp_path):
    for guitar, told in ((False, 0), (True, 1)):
        table = Table(tmp_path, guitar=guitar)
        assert len(free_string_keys(table.context, table.context.settings.neck_map(), "keys.free_places")) == told
