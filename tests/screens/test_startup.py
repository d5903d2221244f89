"""What the first frame did not need is there after it."""

import pytest

from game.errors import LogError
from game.instrument.sources.note_sources import LISTENED_TO
from game.practice_log.database.in_use import not_in_use
from game.screens import instrument_events, startup
from game.screens.startup import finish_startup, preload_page
from tests.refusing import refusal
from tests.screens.table import Table


@pytest.fixture
def started(tmp_path, monkeypatch):
    """A game on the table that has finished its start; no port of this computer is looked at."""
    monkeypatch.setattr(instrument_events.InstrumentEvents.__init__, "__defaults__", ((),))
    table = Table(tmp_path)
    events = finish_startup(table.context)
    yield table
    events.close()
    table.context.session.close()


def test_nobody_puts_another_log_in_the_place_of_this_one_now(started):
    with refusal(LogError), not_in_use(started.context.session.log.path):
        pass


def test_the_sound_that_was_opened_has_every_note_of_the_map_ready(tmp_path, monkeypatch):
    ready = []
    monkeypatch.setattr("game.audio.sound.Sound.make_ready", lambda _, soundings: ready.extend(soundings))
    monkeypatch.setattr(instrument_events.InstrumentEvents.__init__, "__defaults__", ((),))
    table = Table(tmp_path)
    finish_startup(table.context).close()
    assert set(ready) == set(table.context.settings.neck_map().places)
    table.context.session.close()


def test_a_take_that_was_cut_short_is_judged(tmp_path, monkeypatch):
    monkeypatch.setattr(instrument_events.InstrumentEvents.__init__, "__defaults__", ((),))
    table = Table(tmp_path)
    table.open("F4 h, G4 h")
    table.play(53)
    table.context.session.close()
    later = Table(tmp_path)
    finish_startup(later.context).close()
    assert later.logged("SELECT count(*) FROM judgement") == [(1,)]
    later.context.session.close()


def test_every_source_is_listened_to():
    assert instrument_events.InstrumentEvents.__init__.__defaults__ == (LISTENED_TO,)


def test_the_engraver_and_its_face_are_loaded_where_nobody_sees_it(table, monkeypatch):
    before = table.picture()
    prepared = []
    monkeypatch.setattr(startup.engraver, "prepare", prepared.append)
    preload_page(table.context)
    assert prepared
    assert table.picture() == before
