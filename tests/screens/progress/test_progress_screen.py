"""Progress on screen: neck and staff, days and sentences."""

from dataclasses import replace

import pygame
import pytest

from game.screens.progress.progress_figures import Progress
from game.screens.routes import ToProgress, ToShelf
from tests.screens.table import Table


@pytest.fixture
def practised(tmp_path):
    """A passage read once with one note that took long."""
    from datetime import datetime

    table = Table(tmp_path)
    table.day = datetime.now().astimezone().date().toordinal()
    table.open("F4 q, G4 q, A4 q, G4 q", "F4 q, A4 q, G4 q, A4 q", "G4 q, F4 q, A4 q, F4 q")
    for note in table.screen.take.expected:
        table.wait(3.0 if note.sounding == 57 else 0.3, frame_s=0.1)
        table.play(note.sounding)
    table.wait(2.0)
    table.context.session.log.flush()
    table.go(ToShelf())
    return table


def test_a_key_on_the_shelf_leads_there_and_escape_back(practised):
    practised.key(pygame.K_g)
    assert practised.screen_name == "ProgressScreen"
    practised.key(pygame.K_ESCAPE)
    assert practised.screen_name == "ShelfScreen"


def test_without_a_log_it_says_so(table):
    table.go(ToProgress())
    assert table.screen.progress == Progress()
    assert "Nothing" in table.screen._in_short()


def test_where_much_has_to_be_added_up_it_says_so_before_it_does(practised, monkeypatch):
    monkeypatch.setattr("game.screens.progress.progress_figures._AT_ONCE", 0)
    practised.go(ToProgress())
    assert practised.screen.progress == Progress()
    assert "added up" in practised.screen._in_short()
    practised.wait(0.5)
    assert practised.screen.progress.slowest
    assert "added up" not in practised.screen._in_short()
    practised.go(ToProgress())
    assert practised.screen.progress.slowest, "nothing is left to be added up"


def test_the_staff_shows_the_notes_that_the_neck_shows(practised):
    practised.go(ToProgress())
    before = practised.app.surface.copy()
    practised.screen.progress = replace(practised.screen.progress, notes=())
    practised.app.draw()
    staff = pygame.Rect(0, 326, 1280, 110)
    assert pygame.image.tobytes(before.subsurface(staff), "RGB") != pygame.image.tobytes(
        practised.app.surface.subsurface(staff), "RGB"
    )
