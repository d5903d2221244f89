"""The app's loop: what nobody foresaw ends a screen, never the game, and never loses what was played."""

import types
from dataclasses import replace
from datetime import date
from pathlib import Path

import msgspec
import pygame
import pytest

from game.app import AT_REST_AFTER_S, run
from game.coach.stages import Pulse, Stage
from game.paths import shipped
from game.player.gatherer import REST_S, Gatherer
from game.player.player_log import PlayerLog
from game.player.session import Session
from game.player.settings import Look
from game.screens import window_picture
from game.screens.routes import ToMap, ToPage, ToShelf, ToToday
from game.screens.window_size import LARGEST
from game.text.catalogue import tell
from game.tunes.library.library import shelf
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.tune_files import tune_file
from tests.screens.ways import ASSIGNMENT, request_of, routes


class PlantedError(Exception):
    """A fault that nobody foresaw."""


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


def crash_notes(folder: Path) -> list[Path]:
    return sorted(folder.glob("crash-*.txt"))


def planted(*_args: object, **_words: object) -> None:
    raise PlantedError("nobody foresaw this")


SHIPPED = shipped("content", "assignments", "first-week.toml")


ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h")


@pytest.mark.parametrize("where", sample(["on_tick", "on_key", "draw"], by_default=1))
def test_a_fault_on_any_screen_leaves_a_note_and_brings_today_back(table, tmp_path, monkeypatch, where):
    """In the answer to time or to a key, or in the middle of a picture."""
    ways = routes(table, tmp_path)
    for name, route in ways.items():
        table.go(route)
        assert table.screen_name == name
        monkeypatch.setattr(table.screen, where, planted, raising=False)
        if where == "on_key":
            pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_x, unicode="x", mod=0, scancode=0))
        table.clock.advance(1.0)
        table.app.turn()
        # Where Today itself fails, the shelf is there.
        assert table.screen_name == ("ShelfScreen" if name == "TodayScreen" else "TodayScreen"), name
        assert "nobody foresaw" in table.context.window.message
        note = crash_notes(tmp_path)[-1]
        assert note.name in table.context.window.message
        told = note.read_text(encoding="utf-8")
        assert "PlantedError: nobody foresaw this" in told
        assert name in told
        table.app.turn()
        assert table.app.running
    assert len(crash_notes(tmp_path)) == min(len(ways), 10)


def test_what_was_played_before_a_fault_is_in_the_log_and_judged_at_the_next_start(tmp_path, monkeypatch):
    table = Table(tmp_path)
    table.go(ToPage(request_of(table), chosen=True))
    table.play(53)
    monkeypatch.setattr(table.screen, "on_tick", planted)
    table.app.turn()
    assert table.screen_name == "TodayScreen"
    assert table.context.session.close() is None
    later = PlayerLog(tmp_path)
    later.judge_interrupted_takes()
    with later.reading() as connection:
        rows = (
            connection.execute("SELECT count(*) FROM played").fetchone(),
            connection.execute("SELECT count(*) FROM judgement").fetchone(),
        )
    later.close()
    assert rows == ((1,), (1,))


def test_where_today_and_the_shelf_are_broken_themselves_the_game_ends_with_the_fault(table, tmp_path, monkeypatch):
    """Rather than to turn for ever; the notes tell of it."""
    table.go(ToToday())
    monkeypatch.setattr("game.screens.choosing.today_screen.TodayScreen.on_tick", planted)
    monkeypatch.setattr("game.screens.choosing.shelf_screen.ShelfScreen.on_tick", planted)
    table.app.turn()
    assert table.screen_name == "ShelfScreen"
    with pytest.raises(PlantedError):
        table.app.turn()
    assert len(crash_notes(tmp_path)) == 2


def test_a_plan_that_cannot_be_made_when_the_log_is_opened_leaves_the_shelf(tmp_path, monkeypatch):
    """Whatever lies in a log: the tunes can be read."""
    before = Table(tmp_path)
    before.open(*ROWS)
    before.play_through()
    assert before.context.session.close() is None
    monkeypatch.setattr("game.player.player_plan.plan_for", planted)
    table = Table(tmp_path, from_start=True)
    assert table.screen_name == "ShelfScreen"
    assert "nobody foresaw" in table.context.window.message


def test_a_disk_that_refuses_the_note_is_no_second_fault(table, tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "write_text", lambda *_, **__: (_ for _ in ()).throw(OSError(28, "No space left")))
    table.go(ToMap())
    monkeypatch.setattr(table.screen, "on_tick", planted)
    table.app.turn()
    assert table.screen_name == "TodayScreen"
    assert "nobody foresaw" in table.context.window.message
    assert crash_notes(tmp_path) == []


def test_a_file_dropped_during_a_take_does_not_disturb_it(table, tmp_path):
    table.open("F4 q, G4 q, A4 h")
    table.play(53)
    page = table.screen
    table.drop(tune_file(tmp_path, "Melody"))
    assert table.screen is page
    assert page.take.asked.n == 2
    assert "The Weir" in [entry.title for entry in shelf()]


def test_a_line_that_still_sounds_ends_where_a_take_begins_that_a_microphone_would_hear_it_in(table, monkeypatch):
    stopped = []
    monkeypatch.setattr(table.context.devices.sound.strings, "stop", lambda: stopped.append(type(table.screen)))
    table.open("F4 h, G4 h")
    assert stopped == []
    table.settle(microphone="a card")
    table.go(ToToday())
    assert stopped == [], "where nothing is asked it may sound"
    table.open("F4 h, G4 h")
    assert len(stopped) == 1


def test_after_twenty_five_minutes_a_break_is_advised_between_takes_and_never_in_one(table):
    table.open("F4 h, G4 h")
    table.clock.advance(26 * 60)
    table.wait(0.1)
    assert "five" not in table.context.window.message
    table.play(53)
    table.play(55)
    table.wait(1.0)
    assert "put the guitar down for five" in table.context.window.message


def test_the_loop_hears_of_the_mouse_while_it_is_moved_for_a_signature_is_drawn_with_it(table):
    table.app.running = False
    pygame.event.set_blocked(pygame.MOUSEMOTION)
    try:
        run(table.app)
        assert not pygame.event.get_blocked(pygame.MOUSEMOTION)
    finally:
        pygame.event.set_allowed(pygame.MOUSEMOTION)


def test_closing_the_window_ends_the_game(table):
    table.app.step([pygame.event.Event(pygame.QUIT)])
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


def test_in_a_take_an_assignment_waits(table):
    table.open("F4 h, G4 h")
    table.drop(SHIPPED)
    assert table.screen_name == "PlacesPage"
    assert "drop it again" in table.context.window.message


def test_a_tempo_nobody_can_count_is_refused_in_a_sentence_and_the_page_stays(table):
    request = replace(table.open(*ROWS), stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=900)
    table.go(ToPage(request, chosen=True))
    assert "tempo 900 is out of range" in table.context.window.message.lower()
    assert table.screen_name == "PlacesPage"


def test_on_the_shelf_for_a_while_the_back_up_of_the_day_is_made_and_on_a_page_it_is_not(tmp_path, monkeypatch):
    rested = []
    monkeypatch.setattr(Session, "rest", lambda session: rested.append(session.today()))
    table = Table(tmp_path)
    turn_for(table, AT_REST_AFTER_S - 1)
    assert rested == []
    turn_for(table, 30)
    assert rested == [date(2026, 11, 24)]
    table.open("F4 q, G4 q")
    turn_for(table, 60)
    assert len(rested) == 1
    table.go(ToToday())
    turn_for(table, 60)
    assert len(rested) == 2


def turn_for(table, seconds):
    """Turns of the loop in which nothing happens, two a second."""
    for _ in range(round(2 * seconds)):
        table.clock.advance(0.5)
        table.app.turn()
        table.app.turn()


class Brought:
    """A gathering that brought something, and is over when a test says so."""

    def __init__(self):
        self.came_in, self.over, self.stopped = True, False, False

    def stop(self):
        self.stopped = True


@pytest.fixture
def gathered(table):
    """The gatherings so far, of a player who shares with other computers."""
    begun = []
    table.context.session.gatherer = Gatherer(lambda: begun.append(Brought()) or begun[-1])
    return begun


def practise_elsewhere(folder):
    """What another computer of the player's recorded, as a gathering brings it into the log."""
    other = Table(folder)
    other.key(pygame.K_RETURN)
    other.play_through()
    other.context.change_settings(msgspec.structs.replace(other.context.settings, look=Look.NIGHT))
    assert other.context.session.close() is None
    return other.context.session


def test_what_another_computer_recorded_comes_in_while_the_game_rests_and_is_on_screen(table, gathered, tmp_path):
    session = table.context.session
    session.settings_of_file = True
    table.key(pygame.K_t)
    steps = session.plan.progress
    other = practise_elsewhere(tmp_path)
    table.wait(REST_S + 1, frame_s=0.1)
    assert len(gathered) == 1
    before = table.picture()
    gathered[0].over = True
    table.wait(0.2)
    assert table.screen_name == "TodayScreen"
    assert session.settings.look is Look.NIGHT
    assert table.picture() != before
    assert "“paper”" in table.context.window.message
    assert session.coach.state == other.coach.state
    assert session.plan.progress is not steps
    session.close()


def test_on_the_shelf_the_tune_that_was_chosen_stays_so(table, gathered, tmp_path):
    table.key(pygame.K_o, "o")
    table.key(pygame.K_DOWN)
    table.key(pygame.K_DOWN)
    chosen = table.screen.list.entries[table.screen.list.chosen]
    practise_elsewhere(tmp_path)
    table.wait(REST_S + 1, frame_s=0.1)
    gathered[0].over = True
    table.wait(0.2)
    assert table.screen.list.entries[table.screen.list.chosen] == chosen


def test_a_take_ends_a_gathering_and_nothing_comes_in_during_it(table, gathered):
    table.wait(REST_S + 1, frame_s=0.1)
    table.go(ToPage(request_of(table), chosen=True))
    page = table.screen
    table.play(53)
    assert gathered[0].stopped
    table.wait(REST_S + 1, frame_s=0.1)
    assert table.screen is page
    assert len(gathered) == 1


def test_whoever_searches_the_shelf_does_not_rest(table, gathered):
    for _ in range(3):
        table.wait(REST_S - 1, frame_s=0.1)
        table.key(pygame.K_DOWN)
    assert gathered == []


def test_what_the_program_was_begun_with_is_open_once_it_is_read(table, tmp_path):
    table.app.open_files([tune_file(tmp_path, "Melody")])
    table.wait_for_imports()
    assert table.screen.request.passage.score.title == "The Weir"


def test_an_assignment_it_was_begun_with_is_open_at_once(table, tmp_path):
    (tmp_path / "week.toml").write_text(ASSIGNMENT, encoding="utf-8")
    table.app.open_files([tmp_path / "week.toml"])
    assert table.screen_name == "AssignmentScreen"


def test_f11_fills_the_screen_and_once_more_gives_the_window_its_size_back(table):
    before = table.app.surface.get_size()
    table.key(pygame.K_F11)
    assert pygame.display.is_fullscreen()
    assert table.context.sheet.size == table.app.surface.get_size()
    table.key(pygame.K_F11)
    assert not pygame.display.is_fullscreen()
    assert table.context.sheet.size == table.app.surface.get_size() == before


def test_a_window_too_large_to_be_drawn_is_told_and_made_smaller(table, monkeypatch):
    asked = pygame.Surface((LARGEST[0], 900))
    huge = types.SimpleNamespace(get_size=lambda: (32767, 900), get_width=lambda: 32767, get_height=lambda: 900)
    opened = []
    monkeypatch.setattr(pygame.display, "get_surface", lambda: huge)
    monkeypatch.setattr(window_picture, "open_window", lambda size: opened.append(size) or asked)
    table.app.step([pygame.event.Event(pygame.VIDEORESIZE, size=(32767, 900), w=32767, h=900)])
    assert opened == [(LARGEST[0], 900)]
    assert "So large a window" in table.context.window.message
