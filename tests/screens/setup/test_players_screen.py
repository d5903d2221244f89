"""Who plays is chosen on screen: log, settings, coach and plan go with the player, and the choice lasts."""

import json
import sqlite3
from contextlib import closing

import pygame
import pytest

from game.music.score import Reading
from game.player.device_settings import DeviceSettings
from game.player.profiles import LOG_FILE, add_player, first_player, player_at_start, players
from game.player.session import open_session
from game.player.settings import Look, Settings
from game.player.settings_file import load, save
from game.screens.routes import ToPlayers, ToShelf
from tests.made import passage
from tests.screens.table import Table


@pytest.fixture
def table():
    """The first player sits at the desk, with their own log."""
    table = Table(profile=first_player())
    table.context.session.begin_practice()
    return table


def takes_in(player) -> int:
    with closing(sqlite3.connect(player.folder / LOG_FILE)) as log, log:
        return log.execute("SELECT count(*) FROM take").fetchone()[0]


def read_a_bar(table):
    table.open("F4 h, G4 h")
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.5)
    assert table.screen_name == "ResultScreen"


def change_to(table, steps_down):
    table.go(ToPlayers())
    for _ in range(abs(steps_down)):
        table.key(pygame.K_DOWN if steps_down > 0 else pygame.K_UP)
    table.key(pygame.K_RETURN)


def test_enter_changes_to_the_chosen_player_with_everything_that_is_theirs(table):
    grace = add_player("Grace")
    save(Settings(look=Look.NIGHT, reading=Reading.CONCERT, target_bpm=140), grace.settings_path)
    read_a_bar(table)
    before = table.context.session.coach
    change_to(table, 1)
    assert table.screen_name == "TodayScreen"
    context = table.context
    assert takes_in(first_player()) == 1
    assert (context.settings.look, context.settings.reading) == (Look.NIGHT, Reading.CONCERT)
    assert context.session.coach is not before
    assert context.session.coach.facts(passage("F4 h, G4 h")).target_bpm == 140
    assert context.session.coach.state.records == {}
    assert context.session.plan.situation().neck_map.reading is Reading.CONCERT
    assert context.window.message == "Grace plays."
    read_a_bar(table)
    context.session.log.close()
    assert (takes_in(first_player()), takes_in(grace)) == (1, 1)


def test_what_is_settled_after_the_change_is_kept_for_that_player_only(table):
    grace = add_player("Grace")
    change_to(table, 1)
    table.key(pygame.K_s)
    table.key(pygame.K_RIGHT)
    assert load(grace.settings_path).settings.look is Look.NIGHT
    assert load(first_player().settings_path).settings.look is Look.PAPER


def test_one_can_change_back_and_the_log_goes_on(table):
    add_player("Grace")
    read_a_bar(table)
    known = table.context.session.coach.state.records
    change_to(table, 1)
    change_to(table, -1)
    assert table.context.session.name == ""
    assert table.context.session.coach.state.records == known
    read_a_bar(table)
    table.context.session.log.close()
    assert takes_in(first_player()) == 2


def test_whoever_was_chosen_last_plays_at_the_next_start_unless_the_variable_says_otherwise(table, monkeypatch):
    grace = add_player("Grace")
    alan = add_player("Alan")
    assert player_at_start().player == first_player()
    change_to(table, 1)
    assert player_at_start().player == grace
    monkeypatch.setenv("HOMEFRET_PLAYER", "alan")
    assert player_at_start().player == alan
    monkeypatch.delenv("HOMEFRET_PLAYER")
    change_to(table, -1)
    assert player_at_start().player == first_player()


def test_a_table_of_players_from_before_or_with_somebody_who_is_gone_begins_with_the_first():
    add_player("Grace")
    path = first_player().folder / "players.json"
    kept = json.loads(path.read_text())
    path.write_text(json.dumps({"players": kept["players"]}))
    assert player_at_start().player == first_player()
    path.write_text(json.dumps({"players": kept["players"], "last": "0" * 32}))
    assert player_at_start().player == first_player()


def test_a_name_is_typed_to_add_a_player_who_can_then_be_changed_to(table):
    table.go(ToPlayers())
    before = table.picture()
    table.key(pygame.K_INSERT)
    table.letters("gracee")
    table.key(pygame.K_BACKSPACE)
    assert table.picture() != before
    table.key(pygame.K_RETURN)
    assert table.context.window.message == "grace can play here: Enter changes to them."
    assert table.context.session.name == ""
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"
    assert table.context.session.name == "grace"


def test_r_gives_the_chosen_player_another_name(table):
    grace = add_player("Grace")
    table.go(ToPlayers())
    for name, steps in (("Ada", 0), ("y", 1)):
        for _ in range(steps):
            table.key(pygame.K_DOWN)
        table.key(pygame.K_r)
        table.letters(name)
        table.key(pygame.K_RETURN)
    assert [player.name for player in players()] == ["Ada", "Gracey"]
    assert table.context.session.name == "Ada"
    assert players()[1].folder == grace.folder
    assert "Gracey" in table.context.window.message


def test_a_new_player_finds_the_instruments_of_the_desk_set_up(table):
    """And nothing else of what the others like."""
    guitar = DeviceSettings(channels=(11, 12, 13, 14, 15, 16), constant_ms=8.0, calibrated=True)
    table.context.change_settings(Settings(look=Look.NIGHT, devices={"a guitar": guitar}, pedals=(66,), position=2))
    table.go(ToPlayers())
    table.key(pygame.K_INSERT)
    table.letters("grace")
    table.key(pygame.K_RETURN)
    table.key(pygame.K_RETURN)
    assert table.context.settings == Settings(devices={"a guitar": guitar}, pedals=(66,))


@pytest.mark.parametrize(("name", "sentence"), [("", "needs a name"), ("grace", "already")])
def test_a_name_that_will_not_do_is_said_and_stays_to_be_mended(table, name, sentence):
    add_player("Grace")
    table.go(ToPlayers())
    table.key(pygame.K_INSERT)
    table.letters(name)
    table.key(pygame.K_RETURN)
    assert sentence in table.context.window.message
    assert table.screen._typed == name
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "PlayersScreen"
    table.key(pygame.K_ESCAPE)
    assert table.screen_name == "TodayScreen"


def test_settings_that_make_no_sense_are_said_and_nothing_changes(table):
    grace = add_player("Grace")
    grace.settings_path.parent.mkdir(parents=True)
    grace.settings_path.write_text("{")
    change_to(table, 1)
    assert table.screen_name == "PlayersScreen"
    assert "do not make sense" in table.context.window.message
    assert (table.context.session.name, player_at_start().player) == ("", first_player())
    read_a_bar(table)
    assert table.context.session.log.flush()
    assert takes_in(first_player()) == 1


def test_a_log_that_cannot_be_written_keeps_its_player_at_the_desk(table):
    """What is only in memory would be lost with the seat."""
    add_player("Grace")
    assert table.context.session.log.flush()
    with closing(sqlite3.connect(first_player().folder / LOG_FILE, timeout=0)) as held, held:
        held.execute("BEGIN IMMEDIATE")
        read_a_bar(table)
        change_to(table, 1)
        assert table.screen_name == "PlayersScreen"
        assert "change players when" in table.context.window.message
        assert table.context.session.name == ""
        held.execute("ROLLBACK")
    change_to(table, 1)
    assert table.context.session.name == "Grace"
    assert takes_in(first_player()) == 1


def test_a_table_of_players_that_makes_no_sense_is_one_sentence_on_the_shelf(table):
    (first_player().folder / "players.json").write_text("[1, 2")
    table.go(ToPlayers())
    assert table.screen_name == "ShelfScreen"
    assert "makes no sense" in table.context.window.message


def test_the_name_stands_on_the_shelf_only_where_several_play(table):
    alone = table.picture()
    grace = add_player("Grace")
    table.go(ToShelf())
    assert table.picture() != alone
    first_of_two = table.picture()
    table.context.session = open_session(grace, table.clock)
    table.go(ToShelf())
    assert table.picture() not in (alone, first_of_two)


def test_the_mouse_chooses_and_changes_too(table):
    add_player("Grace")
    table.go(ToPlayers())
    row = table.context.sheet.px(204 + 46 - 10)
    table.click((200, row))
    assert table.screen_name == "PlayersScreen"
    table.click((200, row))
    assert table.context.session.name == "Grace"


def test_more_players_than_there_is_room_for_can_all_be_reached(table):
    for number in range(30):
        add_player(f"Player {number}")
    table.go(ToPlayers())
    shown = set()
    for _ in range(31):
        table.picture()
        assert table.screen._players[table.screen._chosen] in table.screen._shown
        shown |= set(table.screen._shown)
        table.key(pygame.K_DOWN)
    assert len(shown) == 31
    table.go(ToShelf())
