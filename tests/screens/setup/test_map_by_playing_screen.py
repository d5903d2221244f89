"""A map is written by playing or clicking it once, asked about once, and kept beside those there are."""

from dataclasses import replace

import pygame
import pytest

from game.instrument.decoding.played import NoteRevised, NoteStarted, OffNeck, PlayedNote
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.player.settings import Settings
from game.screens.routes import ToMapByPlaying
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.told_keys import told_keys

NINE = standard_map(position=9)


@pytest.fixture
def table(tmp_path):
    table = Table(tmp_path, guitar=True)
    table.go(ToMapByPlaying())
    return table


def place_px(table, place):
    unit = table.context.sheet.unit
    x, y = table.screen._sheet().neck.middle_of(place.string, place.fret)
    return x * unit, y * unit


def play_map(table, neck_map):
    for home in neck_map.homes:
        table.play(home.sounding, home.place)


def test_a_map_that_is_played_is_asked_about_kept_and_used(table):
    play_map(table, NINE)
    assert table.context.settings == Settings()
    table.key(pygame.K_RETURN)
    told = " ".join(table.screen.asked.told)
    assert "of your shelf move" in told
    assert "Position V stays as it is" in told
    assert table.context.settings == Settings()
    table.key(pygame.K_RETURN)
    assert table.screen_name == "MapScreen"
    assert table.context.settings.neck_map() == NINE
    assert table.context.session.maps.current.name == "Position IX"


def test_no_leads_back_to_all_that_was_played(table):
    play_map(table, NINE)
    table.key(pygame.K_RETURN)
    table.key(pygame.K_ESCAPE)
    assert table.screen.asked is None
    assert table.screen.played.homes == NINE.places
    assert table.context.settings == Settings()


@pytest.mark.parametrize("left_handed", sample([False, True], by_default=1))
@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_clicking_places_does_the_same_on_both_parts_of_the_neck(tmp_path, size, left_handed):
    table = Table(tmp_path, Settings(left_handed=left_handed), size=size)
    table.go(ToMapByPlaying())
    for place in (Place(6, 0), Place(6, 3), Place(2, 9)):
        table.click(place_px(table, place))
        table.wait(0.1)
    table.key(pygame.K_F12)
    table.click(place_px(table, Place(1, 20)))
    assert set(table.screen.played.written) == {Place(6, 0), Place(6, 3), Place(2, 9), Place(1, 20)}
    assert table.screen._upper
    table.key(pygame.K_BACKSPACE)
    assert not table.screen._upper
    assert table.screen.played.newest == Place(2, 9)


def test_a_mistake_is_taken_back_by_backspace_the_free_string_and_a_pedal(table):
    for fret in (5, 6, 7, 8):
        table.play(40 + fret, Place(6, fret))
    table.key(pygame.K_BACKSPACE)
    table.play(40, Place(6, 0))
    assert set(table.screen.played.homes) == {45, 46}
    table.app.screen.pedal_pressed(table.clock.now_s())
    table.wait(1.0)
    assert set(table.screen.played.homes) == {45}
    table.picture()
    assert "take back" in told_keys(table.context.window.told_keys).values()


def test_a_ghost_that_is_withdrawn_while_it_is_asked_takes_the_question_back(table):
    play_map(table, NINE)
    ghost = PlayedNote(started_s=table.clock.now_s(), sounding=84, place=Place(1, 20))
    table.app.note_started(NoteStarted(note=ghost, channel=1))
    table.key(pygame.K_RETURN)
    assert table.screen.asked
    table.screen.note_revised(NoteRevised(before=ghost, after=None, channel=1))
    assert table.screen.asked is None
    assert table.screen.played.homes == NINE.places


def test_a_chord_is_told_and_none_of_it_is_taken(table):
    now_s = table.clock.now_s()
    for number, place in enumerate((Place(5, 7), Place(4, 7), Place(3, 6))):
        sounding = table.context.settings.neck_map().tuning.sounding(place)
        note = PlayedNote(started_s=now_s + 0.01 * number, sounding=sounding, place=place)
        table.app.note_started(NoteStarted(note=note, channel=1))
    assert table.screen.played.homes == {}
    assert "Several notes at once" in table.context.window.message


def test_what_tells_no_place_is_said_and_a_place_that_is_found_late_is_not(table):
    heard = PlayedNote(started_s=table.clock.now_s(), sounding=57, place=None, heard=True)
    table.app.note_started(NoteStarted(note=heard, channel=1))
    table.wait(0.5)
    assert "not where it was played" in table.context.window.message
    table.play(57, place=False)
    table.wait(0.5)
    assert "does not tell where" in table.context.window.message
    table.context.window.message = ""
    low = PlayedNote(started_s=table.clock.now_s(), sounding=45, place=None)
    table.app.note_started(NoteStarted(note=low, channel=4, off_neck=OffNeck.BELOW_STRING))
    after = replace(low, sounding=57, place=Place(4, 7))
    table.screen.note_revised(NoteRevised(before=low, after=after, channel=4))
    table.wait(0.5)
    assert table.context.window.message == ""
    assert table.screen.played.homes == {57: Place(4, 7)}


def test_by_a_microphone_it_is_said_that_places_are_clicked(tmp_path):
    table = Table(tmp_path, Settings(microphone="blue interface"), guitar=True)
    table.go(ToMapByPlaying())
    assert "click the places" in table.screen._how()


def test_the_map_that_is_used_already_is_said_to_be_so(table):
    play_map(table, standard_map(position=5))
    table.key(pygame.K_RETURN)
    assert table.screen.asked is None
    assert "use already" in table.context.window.message


def test_leaving_is_asked_twice_once_something_was_played(table):
    table.key(pygame.K_ESCAPE)
    assert table.screen_name != "MapByPlayingScreen"
    table.go(ToMapByPlaying())
    table.play(45, Place(6, 5))
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "MapByPlayingScreen"
    assert "Esc once more" in table.context.window.message
    table.key(pygame.K_ESCAPE)
    assert table.screen_name != "MapByPlayingScreen"
    assert table.context.session.log.facts.maps.count == 0


def test_a_full_disk_is_said_and_the_map_holds_for_this_time(table, monkeypatch):
    play_map(table, NINE)
    monkeypatch.setattr("game.player.session.save", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left")))
    for _ in range(2):
        table.key(pygame.K_RETURN)
    assert "No space left" in table.context.window.message
    assert table.context.settings.neck_map() == NINE


def test_nothing_written_leads_back_by_enter(table):
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
