"""What was met and heard counts by bars: the whole tune and its passages know of each other."""

import pygame

from game.audio.sound import silence

ROWS = ("F4 h, G4 h", "A4 w", "Bb4 h, A4 h", "G4 w", "C5 h, A4 h", "F4 w", "D4 w", "G4 w")


def answer(table):
    for note in table.screen.take.expected:
        table.play(note.sounding)
    table.wait(1.5)
    assert table.screen_name == "ResultScreen"


def logged(table, column):
    assert table.context.session.log.flush()
    with table.context.session.log.reading() as log:
        return [value for (value,) in log.execute(f"SELECT {column} FROM take ORDER BY take")]


def test_the_whole_tune_after_its_first_bars_is_no_first_sight(table):
    """Nor are its last bars after that, which until then were new."""
    table.open(*ROWS)
    answer(table)
    table.open(*ROWS)
    table.key(pygame.K_F4)
    assert table.screen.request.passage.whole
    answer(table)
    table.open(*ROWS)
    table.key(pygame.K_RIGHT)
    answer(table)
    assert logged(table, "sighting") == [1, 2, 2]


def test_who_heard_the_whole_tune_heard_its_passages(table):
    table.context.devices.sound = silence()
    table.open(*ROWS)
    table.key(pygame.K_F4)
    answer(table)
    table.key(pygame.K_w, "w")
    table.open(*ROWS)
    table.key(pygame.K_RIGHT)
    answer(table)
    assert logged(table, "heard") == [0, 1]
