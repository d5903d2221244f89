"""The settings screen shows what is declared, by groups, explains the chosen row and changes it."""

from collections import defaultdict

import pygame
import pytest

from game.app import App, open_window
from game.commands import game_window
from game.desk.typography import Face, text_width
from game.errors import MapError
from game.music.clicking import Clicking
from game.player.profiles import add_player, first_player
from game.player.setting_options import ChangedOn
from game.player.settings import OPTIONS, Look, Settings
from game.player.settings_file import load
from game.screens.routes import ToPlayers, ToSettings
from game.screens.setup import settings_screen
from game.text import catalogue
from game.text.catalogue import catalogue_in, say, tell
from game.text.language import languages
from tests.screens.table import Table

ROWS = [option for option in OPTIONS.values() if option.shown.on is ChangedOn.SETTINGS]


@pytest.fixture
def table(tmp_path):
    table = Table(tmp_path)
    table.go(ToSettings())
    return table


@pytest.fixture
def drawn(monkeypatch):
    """What is written on the paper, and where: each text with its lefts and tops, for one may stand there twice."""
    written = defaultdict(list)

    def noting(draw):
        def noted(surface, text, at, *rest):
            written[text].append(tuple(at))
            return draw(surface, text, at, *rest)

        return noted

    for name in ("draw_text", "draw_text_right"):
        monkeypatch.setattr(settings_screen, name, noting(getattr(settings_screen, name)))
    explained = settings_screen.draw_paragraph
    monkeypatch.setattr(
        settings_screen,
        "draw_paragraph",
        lambda surface, text, room, *rest: written[text].append(room.topleft) or explained(surface, text, room, *rest),
    )
    return written


def choose(table, name):
    """Go down to a row, however many are above it."""
    rows = [option.name for option in settings_screen._ROWS]
    for _ in range((rows.index(name) - table.screen._chosen) % len(rows)):
        table.key(pygame.K_DOWN)


def test_every_setting_that_is_changed_here_has_a_row_with_its_value_below_its_group(table, drawn):
    table.app.draw()
    tops = []
    for option in settings_screen._ROWS:
        [(x, y)] = drawn[tell(option.name_words)]
        values = drawn[tell(option.value_words(getattr(Settings(), option.name)))]
        assert [value_x > x for value_x, value_y in values if value_y == y] == [True], option.name
        [(_, group_y)] = drawn[say(f"settings.group.{option.group.value}")]
        assert group_y <= y, option.name
        tops.append(y)
    assert len(set(tops)) == len(ROWS)
    assert tops == sorted(tops)


@pytest.mark.parametrize("name", [option.name for option in ROWS])
def test_the_chosen_row_is_explained_and_the_arrows_lead_through_all_its_values_and_round(table, drawn, name):
    option = OPTIONS[name]
    choose(table, name)
    table.app.draw()
    assert tell(option.explanation) in drawn
    seen = []
    for _ in option.steps:
        table.key(pygame.K_RIGHT)
        seen.append(getattr(table.context.settings, name))
    assert set(map(str, seen)) == set(map(str, option.steps))
    assert seen[-1] == getattr(Settings(), name)
    table.key(pygame.K_LEFT)
    assert getattr(table.context.settings, name) == seen[-2]
    assert load(table.context.session.profile.settings_path).without_faults() == table.context.settings


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("size", [(960, 600), (1280, 720)])
def test_every_row_and_every_explanation_has_room_in_each_language(tmp_path, language, size):
    table = Table(tmp_path, size=size)
    table.go(ToSettings())
    sheet, words = table.context.sheet, catalogue_in(language)
    values = sheet.px(290) - sheet.px(8)
    right = sheet.text_area.width - sheet.px(34) - sheet.px(290) - sheet.px(130)
    for option in ROWS:
        assert text_width(words.tell(option.name_words), Face.ITALIC, sheet.small_px) <= values, option.name
        assert text_width(words.tell(option.explanation), Face.TEXT, sheet.small_px) <= sheet.text_area.width, (
            option.name
        )
        for step in option.steps:
            assert text_width(words.tell(option.value_words(step)), Face.TEXT, sheet.small_px) <= right, option.name
    last = table.screen._y_of(len(ROWS) - 1) + table.screen._row_height
    assert last <= sheet.paper.bottom - sheet.px(122)
    assert table.screen._row_height >= sheet.small_px


def test_from_a_value_between_two_steps_the_arrows_go_to_the_next(table):
    table.context.change_settings(Settings(staff_space_px=31))
    choose(table, "staff_space_px")
    table.key(pygame.K_RIGHT)
    assert table.context.settings.staff_space_px == 32


def test_a_click_chooses_a_row_and_a_second_one_changes_it(table):
    row = [option.name for option in settings_screen._ROWS].index("clicking")
    at = (300, table.screen._y_of(row) + table.screen._row_height / 2)
    table.click(at)
    assert table.context.settings == Settings()
    table.click(at)
    assert table.context.settings == Settings(clicking=Clicking.TWO_AND_FOUR)


def test_a_click_between_groups_or_outside_of_the_rows_does_nothing(table):
    rows = settings_screen._ROWS
    first_of_practice = next(row for row, option in enumerate(rows) if option.name == "waits")
    for y in (table.screen._y_of(first_of_practice) - 3, table.screen._top - 5, table.context.sheet.paper.bottom - 60):
        table.click((300, y))
        table.click((300, y))
    assert (table.context.settings, table.screen._chosen) == (Settings(), 0)


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
    drawn.clear()
    table.app.draw()
    assert {"Sprache", "Deutsch", "Aussehen"} <= set(drawn)


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


def test_settings_are_changed_by_arrows_and_kept(table):
    table.go(ToSettings())
    table.key(pygame.K_RIGHT)
    assert table.context.settings.look is Look.NIGHT
    assert load(table.context.session.profile.settings_path).settings.look is Look.NIGHT
    for _ in range(40):
        table.key(pygame.K_DOWN)
        table.key(pygame.K_RIGHT)
    load(table.context.session.profile.settings_path).settings.neck_map()
