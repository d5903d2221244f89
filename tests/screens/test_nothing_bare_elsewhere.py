"""No word is bare on shelf, plan, instruments, players, settings and assignments, nor in what goes wrong.

Titles of tunes, names of people, devices and files, notes, figures and what stands on keys are no words of ours.
"""

from dataclasses import replace

import pygame
import pytest

from game.lines.levels import level_of
from game.neck.tuning import Place
from game.player.device_settings import DeviceSettings
from game.player.profiles import add_player, first_player
from game.screens.routes import (
    ToDelay,
    ToFreshLine,
    ToImportSummary,
    ToInstruments,
    ToPlacing,
    ToPlayers,
    ToProgress,
    ToSettings,
    ToSetUp,
    ToShelf,
)
from game.screens.setup.setting_rows import GROUPS, rows_of
from game.text import language
from game.tunes.library.shelf_entry import entry_of
from tests.instrument.ports.bench_driver import GUITAR
from tests.made import score
from tests.sampling import how_many, sample
from tests.screens.drawn_text import bare, beginnings
from tests.screens.plugged_in import NAME, Plugged
from tests.screens.table import Table
from tests.screens.tune_files import tune_file

pytestmark = pytest.mark.usefixtures("in_brackets")


def test_the_shelf_with_all_that_is_dropped_on_it(drawn, table, tmp_path):
    table.key(pygame.K_SLASH, "/")
    table.picture()
    table.letters("moun")
    table.picture()
    table.letters("xyz")
    table.picture()
    table.key(pygame.K_ESCAPE)
    for _ in range(6):
        table.key(pygame.K_o, "o")
        table.picture()
    table.drop(tune_file(tmp_path, "Flute", "Viol"))
    table.picture()
    table.letters("2")
    table.wait_for_imports()
    table.picture()
    (tmp_path / "shopping.txt").write_text("strings, a capo", encoding="utf-8")
    table.drop(tmp_path / "shopping.txt")
    table.picture()
    assert bare(drawn, "Flute", "Viol", *beginnings("mounxyz")) == {}


@pytest.mark.parametrize("way", sample(range(4), by_default=1))
def test_the_summary_of_an_import_and_each_way_to_make_it_fit(drawn, table, way):
    low = replace(score("F3 q, G3 q, A3 h", "F3 w"), part="Viol")
    table.go(ToImportSummary(entry_of(low, name="low", file_name="low.musicxml"), low))
    table.picture()
    assert len(table.screen.ways) > way
    table.key(ord(str(way + 1)), str(way + 1))
    table.picture()
    assert bare(drawn, "Viol") == {}


def test_instruments_set_up_and_measured(drawn, table):
    pickup = Plugged(table)
    pickup.pluck(Place(2, 5))
    table.go(ToInstruments())
    table.picture()
    pickup.pluck(Place(2, 5))
    pickup.pluck(Place(3, 2), lasts_s=0.001)
    table.picture()
    table.key(pygame.K_l)
    table.key(pygame.K_j)
    table.picture()
    pickup.send(0xB0, 4, 127)
    table.picture()
    table.go(ToSetUp(NAME))
    for string in (6, 5, 4, 3, 2, 1, 6):
        table.picture()
        pickup.pluck(Place(string, 0))
    table.picture()
    table.key(pygame.K_RETURN)
    table.picture()
    assert table.screen.found
    table.go(ToSetUp(NAME))
    for string in (6, 6, 4, 3, 2, 1, 6):
        pickup.pluck(Place(string, 0))
    table.key(pygame.K_RETURN)
    table.picture()
    calibrated = DeviceSettings(channels=(1, 2, 3, 4, 5, 6), calibrated=True)
    table.settle(devices={NAME: calibrated, "an old device": calibrated})
    table.go(ToInstruments())
    pickup.pull_out()
    table.picture()
    assert bare(drawn, NAME, "an old device", "MIDI by hand") == {}


def test_the_delay_of_an_instrument(drawn, table):
    pickup = Plugged(table)
    table.go(ToDelay(NAME))
    table.picture()
    table.key(pygame.K_TAB)
    table.picture()
    table.key(pygame.K_TAB)
    for string, sounding in ((6, 40), (1, 64)):
        table.key(pygame.K_SPACE)
        table.picture()
        onset_s, number = table.screen._onset_s, 0
        while table.screen._onset_s is not None:
            table.clock.advance(max(0.001, onset_s + 0.75 * number - 0.02 - table.clock.now_s()))
            pickup.driver.play(GUITAR, [0x90 | string - 1, sounding, 80])
            table.wait(0.3, frame_s=0.1)
            number += 1
    table.picture()
    assert table.screen.done
    assert bare(drawn, NAME, "MIDI by hand") == {}


def test_players(drawn):
    table = Table(profile=first_player())
    table.context.session.begin_practice()
    add_player("Grace")
    table.go(ToShelf())
    table.picture()
    table.go(ToPlayers())
    table.key(pygame.K_INSERT)
    table.picture()
    table.letters("grace")
    table.key(pygame.K_RETURN)
    table.picture()
    table.letters("t")
    table.key(pygame.K_RETURN)
    table.picture()
    table.key(pygame.K_RETURN)
    table.picture()
    assert table.context.session.name == "gracet"
    assert bare(drawn, "Grace", *beginnings("gracet")) == {}


def test_every_setting_with_every_value(drawn, table):
    table.go(ToSettings())
    for group in GROUPS:
        for row in rows_of(group):
            for _ in range(how_many(4, by_default=1) if row.option else 0):
                table.key(pygame.K_RIGHT)
                table.picture()
            table.key(pygame.K_DOWN)
            # Another language than that of brackets would be spoken from here on.
            language.choose_language()
        table.key(pygame.K_TAB)
    assert bare(drawn, "Deutsch", "English") == {}


def test_an_assignment(drawn, table, tmp_path):
    (tmp_path / "week.toml").write_text(
        """title = "A week"
due = 2026-12-24
note = "do re mi"
[[tune]]
title = "Ode to Joy"
bars = [1, 4]
stages = ["places", "time"]
tempo = 80
[[tune]]
title = "The Weir"
[[line]]
level = 2
a_day = 3
""",
        encoding="utf-8",
    )
    table.drop(tmp_path / "week.toml")
    assert table.screen_name == "AssignmentScreen"
    table.picture()
    table.key(pygame.K_RETURN)
    table.picture()
    table.key(pygame.K_ESCAPE)
    table.drop(tmp_path / "week.toml")
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    table.picture()
    table.key(pygame.K_DOWN)
    table.key(pygame.K_RETURN)
    assert table.screen.request.fresh
    table.picture()
    assert bare(drawn) == {}


def test_the_short_test(drawn, table):
    table.go(ToPlacing())
    while table.screen_name == "PlacingPage":
        table.picture()
        for note in table.screen.take.expected:
            table.play(note.sounding)
    table.picture()
    assert table.screen_name == "TodayScreen"
    assert bare(drawn) == {}


@pytest.mark.parametrize("level", sample(range(1, 9), by_default=1))
def test_a_fresh_line_of_each_level_and_its_sibling(drawn, table, level):
    """Titles of what was made are words of ours."""
    table.settle(line_level=level_of(level).number)
    table.go(ToFreshLine())
    assert table.screen.request.fresh
    table.picture()
    table.play_through()
    table.key(pygame.K_b)
    table.picture()
    assert bare(drawn) == {}


def test_what_goes_wrong(drawn, table, tmp_path, monkeypatch):
    """A disk, a sound, a map, a table of players, a screen."""
    for _ in range(8):
        table.key(pygame.K_m)
        table.key(pygame.K_LEFT)
    table.picture()
    table.context.devices.sound.device_lost()
    table.context.say_sound()
    table.picture()
    (tmp_path / "practice.sqlite").write_text("this is no practice log", encoding="utf-8")
    table.go(ToProgress())
    table.picture()
    table.go(ToShelf())
    table.picture()
    monkeypatch.setattr(table.screen, "on_tick", lambda _: 1 // 0)
    table.app.turn()
    table.picture()
    assert len(drawn.whole) > 30
    assert bare(drawn, "practice.sqlite", str(tmp_path)) == {}
