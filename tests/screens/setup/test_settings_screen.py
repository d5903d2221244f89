"""The settings sheet shows what is declared, in three groups, each row with its line; arrows and clicks change it."""

from itertools import product

import pygame
import pytest

from game.app import App
from game.commands import game_window
from game.desk.kit import fitted_line
from game.errors import MapError
from game.music.clicking import Clicking
from game.player.device_settings import LONGEST_DEVICE_NAME
from game.player.profiles import add_player, first_player
from game.player.setting_options import ChangedOn
from game.player.settings import OPTIONS, Look, Settings
from game.player.settings_file import load
from game.screens.routes import ToPlayers, ToSettings
from game.screens.setup import settings_sheet
from game.screens.setup.setting_rows import GROUPS, rows_of
from game.screens.window_size import open_window
from game.text import catalogue
from game.text.catalogue import catalogue_in, say, tell
from game.text.language import languages
from tests.sampling import sample
from tests.screens.drawn_text import DrawnText
from tests.screens.table import Table

ROWS = [option for option in OPTIONS.values() if option.shown.on is ChangedOn.SETTINGS]
SIZES = [(960, 600), (1280, 720), (3840, 2160)]


@pytest.fixture
def table(tmp_path):
    table = Table(tmp_path)
    table.go(ToSettings())
    return table


@pytest.fixture
def drawn(monkeypatch):
    """What is written on the paper from now on."""
    return DrawnText(monkeypatch)


def choose(table, name):
    """Go to a row, in whichever group it is."""
    for _ in GROUPS:
        names = [row.name for row in table.screen._rows]
        if name in names:
            break
        table.key(pygame.K_TAB)
    for _ in range((names.index(name) - table.screen._chosen) % len(names)):
        table.key(pygame.K_DOWN)


def value_middle(table, name, *, side):
    """Where to click left of (-1), on (0) or right of (1) the value of a row."""
    screen, unit = table.screen, table.context.sheet.unit
    row = [one.name for one in screen._rows].index(name)
    left = screen._sheet.value_left(screen._text(screen._rows[row]))
    x = {-1: left - 22, 0: left + 10, 1: 1196}[side]
    return x * unit, screen._sheet.row_rect(row).centery


def test_every_setting_that_is_changed_here_has_its_row_in_one_of_the_groups():
    found = [row.name for group in GROUPS for row in rows_of(group) if row.option]
    assert sorted(found) == sorted(option.name for option in ROWS)


def test_every_row_of_a_group_is_written_with_its_value_and_its_line_once_it_is_chosen(table, drawn):
    for group in GROUPS:
        for row in rows_of(group):
            choose(table, row.name)
            table.app.draw()
            written = " ".join(drawn.whole)
            for text in (row.words, row.value(table.context), row.why):
                assert text in written, (row.name, text)


@pytest.mark.parametrize("name", sample([option.name for option in ROWS], by_default=2))
def test_the_arrows_lead_through_all_values_of_a_row_and_round_and_each_is_kept(table, name):
    option = OPTIONS[name]
    choose(table, name)
    seen = []
    for _ in option.steps:
        table.key(pygame.K_RIGHT)
        seen.append(getattr(table.context.settings, name))
    assert set(map(str, seen)) == set(map(str, option.steps))
    assert seen[-1] == getattr(Settings(), name)
    table.key(pygame.K_LEFT)
    assert getattr(table.context.settings, name) == seen[-2]
    assert load(table.context.session.profile.settings_path).without_faults() == table.context.settings


@pytest.mark.parametrize(("language", "size"), sample(product(languages(), SIZES), by_default=1))
def test_every_row_value_and_line_has_room_beside_one_another_in_each_language(tmp_path, monkeypatch, language, size):
    """Nothing is cut, in no language and with no value."""
    table = Table(tmp_path, size=size)
    table.go(ToSettings())
    monkeypatch.setattr(catalogue._Chosen, "catalogue", catalogue_in(language))
    cut = []
    monkeypatch.setattr(fitted_line, "shortened", lambda text, *_: cut.append(text) or text)
    for group in GROUPS:
        choose(table, rows_of(group)[0].name)
        table.app.draw()
    for option in ROWS:
        choose(table, option.name)
        for step in option.steps:
            table.settle(**{option.name: step})
            screen = table.screen
            left = screen._sheet.value_left(screen._text(screen._row))
            assert left > settings_sheet._LEFT + 100, (option.name, step)
        table.app.draw()
    assert cut == []


def test_a_device_with_the_longest_name_there_may_be_leaves_the_name_of_its_row_whole(table, drawn):
    table.settle(
        device="USB MIDI Interface MIDI 1 of a very long name, port 3 of 12!" + "x" * (LONGEST_DEVICE_NAME - 60)
    )
    choose(table, "instruments")
    table.app.draw()
    screen = table.screen
    assert screen._sheet.value_left(screen._text(screen._row)) > settings_sheet._LEFT + 120
    assert any(text.startswith("USB MIDI Interface") for text in drawn.whole)


def test_from_a_value_between_two_steps_the_arrows_go_to_the_next(table):
    table.context.change_settings(Settings(staff_space_px=31))
    choose(table, "staff_space_px")
    table.key(pygame.K_RIGHT)
    assert table.context.settings.staff_space_px == 32


@pytest.mark.parametrize("size", sample(SIZES, by_default=1))
def test_a_click_left_or_right_of_a_value_changes_it_and_one_beside_it_only_chooses_the_row(tmp_path, size):
    table = Table(tmp_path, size=size)
    table.go(ToSettings())
    table.key(pygame.K_TAB)
    table.key(pygame.K_TAB)
    at = value_middle(table, "clicking", side=1)
    table.click((table.context.sheet.px(460), at[1]))
    assert (table.screen._row.name, table.context.settings) == ("clicking", Settings())
    table.click(at)
    assert table.context.settings.clicking is Clicking.TWO_AND_FOUR
    table.click(value_middle(table, "clicking", side=-1))
    assert table.context.settings.clicking is Clicking.EVERY_BEAT
    table.click(value_middle(table, "target_bpm", side=1))
    assert (table.screen._row.name, table.context.settings.target_bpm) == ("target_bpm", 105)
    table.click(value_middle(table, "target_bpm", side=-1))
    assert table.context.settings.target_bpm == 100


def test_a_click_outside_of_rows_and_groups_does_nothing(table):
    for at in ((420, 70), (1230, 300), (40, 600), (600, 622)):
        table.click(at)
        assert (table.context.settings, table.screen._chosen, table.screen._group) == (Settings(), 0, 0)


def test_tab_and_a_click_on_its_card_lead_to_a_group_and_its_first_row(table):
    table.key(pygame.K_DOWN)
    table.click(table.screen._sheet.group_rect(2).center)
    assert (table.screen._group, table.screen._chosen) == (2, 0)
    table.key(pygame.K_TAB)
    assert table.screen._group == 0


@pytest.mark.parametrize(
    ("name", "screen"),
    sample(
        [("players", "PlayersScreen"), ("sharing", "SharingScreen"), ("instruments", "InstrumentsScreen")], by_default=1
    ),
)
def test_a_row_that_leads_on_is_what_the_corner_leads_to_and_escape_comes_back_from_there(table, name, screen):
    for way in ("enter", "right", "click"):
        choose(table, name)
        assert table.screen_name == "SettingsScreen"
        if way == "click":
            table.click(value_middle(table, name, side=0))
        else:
            table.key(pygame.K_RETURN if way == "enter" else pygame.K_RIGHT)
        assert table.screen_name == screen
        table.key(pygame.K_ESCAPE)
        assert table.screen_name == "SettingsScreen", way


def test_the_corner_leads_back_to_today_and_so_does_escape(table):
    for key in (pygame.K_RETURN, pygame.K_ESCAPE):
        table.go(ToSettings())
        table.key(key)
        assert table.screen_name == "TodayScreen"


def test_another_tuning_gives_up_the_homes_chosen_by_hand(table):
    table.context.change_settings(Settings(choices={59: (4, 9)}))
    choose(table, "tuning")
    table.key(pygame.K_RIGHT)
    assert table.context.settings == Settings(tuning="drop-d")


def test_a_change_that_makes_no_map_is_said_and_not_made(table, monkeypatch):
    def refuse(_settings, _name, _value):
        raise MapError("verbatim", text="no such map")

    monkeypatch.setattr(Settings, "changed", refuse)
    table.key(pygame.K_RIGHT)
    assert table.context.window.message == "No such map."
    assert table.context.settings == Settings()


def test_another_language_is_spoken_at_once(table, drawn, monkeypatch):
    monkeypatch.delenv("HOMEFRET_LANGUAGE", raising=False)
    monkeypatch.setenv("LC_ALL", "C")
    monkeypatch.setattr(catalogue._Chosen, "catalogue", None)
    choose(table, "language")
    while table.context.settings.language != "de":
        table.key(pygame.K_RIGHT)
    table.app.draw()
    assert {"Sprache", "Deutsch", "Die Seite"} <= set(drawn.whole)


def test_beside_the_volume_stands_how_loud_is_safe(table, drawn):
    choose(table, "volume")
    table.app.draw()
    assert say("care.listening") in drawn.whole


def test_rows_out_of_sight_are_told_and_come_into_it(table, drawn, monkeypatch):
    monkeypatch.setattr(settings_sheet.SettingsSheet, "rows_shown", 3)
    choose(table, "look")
    table.app.draw()
    assert any(text.startswith("↓") for text in drawn.whole)
    seen = set()
    for _ in table.screen._rows:
        assert table.screen._chosen in table.screen._sheet.in_sight
        seen.add(table.screen._row.name)
        table.key(pygame.K_DOWN)
    assert seen == {row.name for row in table.screen._rows}
    assert tell(OPTIONS["look"].name_words) in drawn.whole


def test_faulty_settings_at_the_start_are_one_sentence_over_the_shelf_and_the_game_goes_on():
    first_player().settings_path.parent.mkdir(parents=True, exist_ok=True)
    first_player().settings_path.write_text('{"position": 40, "look": "night"}')
    context = game_window._context()
    app = App(open_window(), context)
    app.step([])
    assert context.settings == Settings(position=19, look=Look.NIGHT)
    assert context.message_shown
    assert context.window.message == "Your settings were put right: position is 19 instead of 40."


def test_settings_that_cannot_be_read_at_the_start_are_told_and_done_without():
    first_player().settings_path.parent.mkdir(parents=True, exist_ok=True)
    first_player().settings_path.write_text("{")
    context = game_window._context()
    assert context.settings == Settings()
    assert "do not make sense (it is no JSON at line 1, column 2): mend or delete that file" in context.window.message
    context.change_settings(Settings(look=Look.NIGHT))
    assert first_player().settings_path.with_suffix(".unread").read_text() == "{"


def test_faulty_settings_of_who_takes_the_seat_are_one_sentence_that_says_what_was_put_right():
    table = Table(profile=first_player())
    grace = add_player("Grace")
    grace.settings_path.parent.mkdir(parents=True)
    grace.settings_path.write_text('{"look": "night", "staff_space_px": 1000000, "still": 1, "moonlight": 3}')
    table.go(ToPlayers())
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.context.session.name == "Grace"
    assert table.context.settings == Settings(look=Look.NIGHT, staff_space_px=48)
    assert table.context.window.message == (
        "Your settings were put right: staff_space_px is 48 instead of 1000000; still is false instead of 1."
    )
    assert '"staff_space_px": 1000000' in grace.settings_path.read_text()


def test_whatever_the_arrows_come_to_the_map_can_be_made_and_is_kept(table):
    for _ in GROUPS:
        for _ in table.screen._rows:
            if table.screen._row.option:
                table.key(pygame.K_RIGHT)
            table.key(pygame.K_DOWN)
        table.key(pygame.K_TAB)
    kept = load(table.context.session.profile.settings_path).settings
    assert kept.look is Look.NIGHT
    kept.neck_map()


def test_rows_out_of_sight_are_reached_by_clicks_alone(table, monkeypatch):
    monkeypatch.setattr(settings_sheet.SettingsSheet, "rows_shown", 3)
    seen = set()
    for _ in range(2 * len(table.screen._rows)):
        seen |= set(table.screen._sheet.in_sight)
        table.click(table.screen._sheet.more_rects[1].center)
    assert seen == set(range(len(table.screen._rows)))
    for _ in range(2 * len(table.screen._rows)):
        table.click(table.screen._sheet.more_rects[0].center)
    assert 0 in table.screen._sheet.in_sight
