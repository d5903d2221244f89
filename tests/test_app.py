"""The app's loop: what nobody foresaw ends a screen, never the game, and never loses what was played."""

from pathlib import Path

import pygame
import pytest

from game.player.player_log import PlayerLog
from game.screens.routes import ToMap, ToPage, ToShelf
from tests.screens.table import Table
from tests.screens.ways import request_of, routes


class PlantedError(Exception):
    """A fault that nobody foresaw."""


@pytest.fixture
def table(tmp_path):
    return Table(tmp_path)


def crash_notes(folder: Path) -> list[Path]:
    return sorted(folder.glob("crash-*.txt"))


def planted(*_args: object, **_words: object) -> None:
    raise PlantedError("nobody foresaw this")


@pytest.mark.parametrize("where", ["on_tick", "on_key", "draw"])
def test_a_fault_on_any_screen_leaves_a_note_and_brings_the_shelf_back(table, tmp_path, monkeypatch, where):
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
        assert table.screen_name == "ShelfScreen", name
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
    assert table.screen_name == "ShelfScreen"
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


def test_a_shelf_that_is_broken_itself_ends_the_game_with_the_fault(table, tmp_path, monkeypatch):
    """Rather than to turn for ever; the notes tell of it."""
    table.go(ToShelf())
    monkeypatch.setattr("game.screens.choosing.shelf_screen.ShelfScreen.on_tick", planted)
    table.app.turn()
    assert table.screen_name == "ShelfScreen"
    with pytest.raises(PlantedError):
        table.app.turn()
    assert len(crash_notes(tmp_path)) == 2


def test_a_disk_that_refuses_the_note_is_no_second_fault(table, tmp_path, monkeypatch):
    monkeypatch.setattr(Path, "write_text", lambda *_, **__: (_ for _ in ()).throw(OSError(28, "No space left")))
    table.go(ToMap())
    monkeypatch.setattr(table.screen, "on_tick", planted)
    table.app.turn()
    assert table.screen_name == "ShelfScreen"
    assert "nobody foresaw" in table.context.window.message
    assert crash_notes(tmp_path) == []
