"""The real game by a clock that is set by hand."""

from datetime import UTC, datetime
from random import Random

import pytest

from game.demo.driven_game import DrivenGame
from game.instrument.sources.simulated import SOURCE
from game.music.passage import whole_tune
from game.player.profiles import LOG_FILE
from game.player.settings import Settings
from game.practice.take_request import request_for
from game.screens.routes import ToPage, ToShelf
from tests.made import score


@pytest.fixture
def game(tmp_path):
    game = DrivenGame(tmp_path, Settings(), Random(1), fast=True)
    yield game
    game.leave()


def test_the_first_day_begins_at_seven_and_time_passes_at_once(game):
    assert game.session.now() == datetime(2026, 3, 2, 7, tzinfo=UTC)
    game.wait(90.0)
    assert game.session.now() == datetime(2026, 3, 2, 7, 1, 30, tzinfo=UTC)


def test_each_day_begins_at_seven_however_late_it_became(game):
    game.wait(5 * 3600.0)
    game.begin_day()
    assert (game.day, game.session.now()) == (1, datetime(2026, 3, 3, 7, tzinfo=UTC))


def test_no_time_passes_where_none_is_left(game):
    before = game.session.now()
    game.wait(-2.0)
    assert game.session.now() == before


def test_a_note_is_played_at_its_home_and_at_the_time_it_is_said_to(game):
    request = request_for(score("F4 h, G4 h"), game.app.context.settings.neck_map())
    game.app.go(ToPage(request))
    game.step()
    played = []
    game.app.screen.on_played = played.append
    game.wait(1.0)
    game.hear(53, at_s=game.clock.now_s() - 0.2)
    (note,) = played
    home = request.neck_map.home_of(53).place
    assert (note.place, note.source, note.started_s) == (home, SOURCE, game.clock.now_s() - 0.2)
    assert whole_tune(request.score).notes[0].sounding == note.sounding


def test_a_picture_is_that_of_the_screen_and_the_log_lies_in_the_folder(tmp_path):
    game = DrivenGame(tmp_path, Settings(), Random(1), fast=True)
    pictures = [tmp_path / name for name in ("first.png", "shelf.png")]
    game.save_picture(pictures[0])
    game.app.go(ToShelf())
    game.step()
    game.save_picture(pictures[1])
    assert game.leave() == tmp_path / LOG_FILE
    assert pictures[0].read_bytes() != pictures[1].read_bytes()
