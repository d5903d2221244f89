"""Shelf, result, map and settings, and what the app does on all of them."""

from dataclasses import replace

import msgspec
import pygame
import pytest

from game.coach.stages import Stage
from game.music.score import Reading
from game.neck.tuning import Place
from game.player.settings import Look, Settings
from game.player.settings_file import load
from game.screens.routes import ToMap, ToSettings, ToShelf
from game.text.catalogue import tell
from game.tunes.library.library import shelf
from tests.screens.table import Table

MUSICXML = """<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>{title}</work-title></work>
<part-list>{list}</part-list>{parts}</score-partwise>"""
PART = """<part id="{id}"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats>
<beat-type>4</beat-type></time><clef><sign>G</sign><line>2</line></clef></attributes><note><pitch><step>G</step>
<octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure></part>"""


def tune_file(folder, *parts, title="The Weir"):
    listed = "".join(f'<score-part id="P{i}"><part-name>{n}</part-name></score-part>' for i, n in enumerate(parts))
    text = MUSICXML.format(title=title, list=listed, parts="".join(PART.format(id=f"P{i}") for i in range(len(parts))))
    path = folder / "dropped.musicxml"
    path.write_text(text, encoding="utf-8")
    return path


def drop(table, path):
    table.app.step([pygame.event.Event(pygame.DROPFILE, file=str(path))])
    settle(table)


def settle(table):
    """Until the file has been read, in its own thread and process."""
    for _ in range(3000):
        table.app.step([])
        if not table.context.window.imports.busy:
            return
        pygame.time.wait(10)
    raise AssertionError("the file was never read")


def test_the_game_opens_onto_something_to_read(table):
    assert table.screen_name == "ShelfScreen"
    assert len(shelf()) >= 3
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"


def test_arrows_choose_a_tune_and_a_second_click_opens_it(table):
    table.key(pygame.K_DOWN)
    assert table.screen._chosen == 1
    at = (300, table.screen._top + 2 * table.screen._row_height + 10)
    table.click(at)
    assert table.screen._chosen == 2
    table.click(at)
    assert table.screen_name == "PlacesPage"


def test_a_file_dropped_on_the_shelf_is_opened_and_its_octave_stated(table, tmp_path):
    drop(table, tune_file(tmp_path, "Melody"))
    assert table.screen.request.score.title == "The Weir"
    assert "guitar octave" in table.context.window.message
    table.key(pygame.K_ESCAPE)
    assert "The Weir" in [entry.title for entry in shelf()]


def test_at_concert_pitch_a_lead_sheet_sounds_as_written(tmp_path):
    table = Table(tmp_path, msgspec.structs.replace(Settings(), reading=Reading.CONCERT))
    table.open("G4 w")
    assert table.screen.take.asked.sounding == 67
    assert table.screen.request.passage.reading is Reading.CONCERT


def test_a_file_dropped_during_a_take_does_not_disturb_it(table, tmp_path):
    table.open("F4 q, G4 q, A4 h")
    table.play(53)
    page = table.screen
    drop(table, tune_file(tmp_path, "Melody"))
    assert table.screen is page
    assert page.take.asked.n == 2
    assert "The Weir" in [entry.title for entry in shelf()]


def test_of_several_parts_the_player_chooses_one_by_its_number(table, tmp_path):
    drop(table, tune_file(tmp_path, "Flute", "Viol"))
    assert "1 Flute, 2 Viol" in table.context.window.message
    table.letters("2")
    settle(table)
    assert table.screen.request.score.part == "Viol"


def test_a_file_that_is_no_music_is_refused_in_a_sentence_and_the_game_goes_on(table, tmp_path):
    path = tmp_path / "shopping.txt"
    path.write_text("strings, a capo", encoding="utf-8")
    before = shelf()
    drop(table, path)
    assert "shopping.txt" in table.context.window.message
    assert shelf() == before
    table.key(pygame.K_RETURN)
    assert table.screen_name == "PlacesPage"


def result(table):
    table.open("F4 h, G4 h", "A4 w", "A4 w", "A4 w", "C5 w", "C5 w", "C5 w", "C5 w")
    for sounding in (53, 55, 57, 57, 57):
        table.play(sounding)
    table.wait(1.0)
    assert table.screen_name == "ResultScreen"


def test_noodling_over_a_result_is_ignored(table):
    result(table)
    for _ in range(8):
        table.play(53)
        table.wait(0.3)
    assert table.screen_name == "ResultScreen"


def test_after_a_second_of_silence_the_first_note_at_its_home_begins_again(table):
    result(table)
    table.wait(1.1)
    table.play(53, Place(4, 3))
    assert table.screen_name == "ResultScreen"
    table.wait(1.1)
    advised = table.screen.decision
    table.play(53)
    request = table.screen.request
    assert (request.index, request.stage, request.pulse) == (0, advised.stage, advised.pulse)


def test_the_free_open_string_goes_on(table):
    result(table)
    table.play(40, Place(6, 0))
    table.wait(0.8)
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.index == 1


def test_keys_repeat_go_on_and_change_the_stage(table):
    result(table)
    table.key(pygame.K_RETURN)
    assert table.screen.request.index == 0
    table.key(pygame.K_RIGHT)
    assert table.screen.request.index == 1
    table.key(pygame.K_TAB)
    assert table.screen.request.stage is Stage.RHYTHM
    table.key(pygame.K_F4)
    assert table.screen.request.passage.whole


def test_a_click_on_the_map_moves_a_home_and_backspace_puts_it_back(table):
    table.go(ToMap())
    table.click(table.screen._neck.centre_of(Place(4, 9)))
    assert table.context.settings.neck_map().home_of(59).place == Place(4, 9)
    assert load(table.context.session.profile.settings_path).settings.choices == {59: (4, 9)}
    table.key(pygame.K_BACKSPACE)
    assert table.context.settings.neck_map().home_of(59).place == Place(3, 4)


def test_a_played_note_moves_a_home_too(table):
    table.go(ToMap())
    table.play(59, Place(4, 9))
    assert table.context.settings.neck_map().home_of(59).place == Place(4, 9)


def test_the_position_moves_along_the_neck_and_stops_at_its_ends(table):
    table.go(ToMap())
    for _ in range(8):
        table.key(pygame.K_LEFT)
    assert table.context.settings.position == 1
    assert "position 0 is not on this neck" in table.context.window.message.lower()


def test_settings_are_changed_by_arrows_and_kept(table):
    table.go(ToSettings())
    table.key(pygame.K_RIGHT)
    assert table.context.settings.look is Look.NIGHT
    assert load(table.context.session.profile.settings_path).settings.look is Look.NIGHT
    for _ in range(40):
        table.key(pygame.K_DOWN)
        table.key(pygame.K_RIGHT)
    load(table.context.session.profile.settings_path).settings.neck_map()


def test_settings_that_cannot_be_kept_hold_until_the_end(table, tmp_path):
    session = table.context.session
    session.profile = replace(session.profile, settings_path=tmp_path / "dropped" / "x" / "settings.json")
    (tmp_path / "dropped").write_text("a file is in the way", encoding="utf-8")
    table.context.change_settings(msgspec.structs.replace(Settings(), look=Look.NIGHT))
    assert table.context.settings.look is Look.NIGHT
    assert "could not be kept" in table.context.window.message


def test_after_twenty_five_minutes_a_break_is_advised_between_takes_and_never_in_one(table):
    table.open("F4 h, G4 h")
    table.clock.advance(26 * 60)
    table.wait(0.1)
    assert "five" not in table.context.window.message
    table.play(53)
    table.play(55)
    table.wait(1.0)
    assert "put the guitar down for five" in table.context.window.message


@pytest.mark.parametrize("size", [(960, 600), (1280, 720), (1920, 1080), (3840, 2160)])
def test_every_screen_can_be_drawn_from_the_smallest_window_to_the_largest(tmp_path, size):
    table = Table(tmp_path, size=size)
    for route in (ToMap(), ToSettings(), ToShelf()):
        table.go(route)
    result(table)
    assert table.app.surface.get_size() == size


def test_closing_the_window_ends_the_game(table):
    table.app.step([pygame.event.Event(pygame.QUIT)])
    assert not table.app.running


def test_escape_on_the_shelf_leaves(table):
    table.key(pygame.K_ESCAPE)
    assert not table.app.running


def test_a_practice_log_that_cannot_be_written_is_told_and_practice_goes_on(table):
    folder = table.context.session.profile.settings_path.parent
    (folder / "practice.sqlite").write_text("this is no practice log", encoding="utf-8")
    table.open("F4 h, G4 h")
    table.play(53)
    table.play(55)
    table.context.session.log.flush()
    table.wait(1.0)
    assert table.screen_name == "ResultScreen"
    table.go(ToShelf())
    assert table.context.session.log.trouble
    assert table.context.window.message.lower().startswith(tell(table.context.session.log.trouble)[:20].lower())


def test_a_fresh_line_is_one_key_away_and_another_comes_after_it(table):
    table.key(pygame.K_n, "n")
    assert table.screen_name == "PlacesPage"
    assert table.screen.request.fresh
    first = table.screen.request.score
    assert all(note.home is not None for note in table.screen.take.expected)
    table.key(pygame.K_RIGHT)
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.0)
    table.key(pygame.K_RIGHT)
    assert table.screen.request.fresh
    assert table.screen.request.score != first


def test_files_chosen_in_the_window_of_the_system_are_read_as_if_dropped(table, tmp_path):
    import sys

    from game.desk.file_chooser import FileChooser

    path = tune_file(tmp_path, "Melody")
    table.context.window.chooser = FileChooser(
        (sys.executable, "-c", f"import json; print(json.dumps([{str(path)!r}]))")
    )
    table.key(pygame.K_o, mod=pygame.KMOD_CTRL)
    for _ in range(600):
        table.wait(0.02)
        if table.screen_name != "ShelfScreen":
            break
        pygame.time.wait(20)
    assert table.screen_name in ("PlacesPage", "ImportSummaryScreen")
