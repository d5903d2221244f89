"""Progress is told from the log: the slow notes, first sight by day, minutes and marks."""

import pygame
import pytest

from game.screens.routes import ToProgress
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
    table.key(pygame.K_ESCAPE)
    return table


def test_the_slowest_note_is_named_with_its_time(practised):
    practised.go(ToProgress())
    progress = practised.screen.progress
    assert progress.slowest[0].written == "A4"
    assert 2.5 < progress.slowest[0].find_s < 4
    assert "A4" in practised.screen.chapters[1].below[0]


def test_first_sight_of_the_day_is_the_share_that_was_clean(practised):
    practised.go(ToProgress())
    (day,) = practised.screen.progress.days
    assert (day.read, day.clean) == (12, 12)
    assert day.minutes > 0
