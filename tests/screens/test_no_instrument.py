"""A whole practice with no instrument that is heard: the player marks an ordinary guitar, by the computer's keys."""

import pygame

from game.player.settings import InstrumentKind, Settings
from tests.screens.table import Table


def keys(table, *row):
    for key in row:
        table.key(key)
        table.wait(0.2)


def take_through(table):
    """Do what the page that is open wants, up to its result; gives its stage, and whether the metronome played."""
    request = table.screen.request
    if table.screen_name == "SelfMarkedPage":
        while table.screen_name == "SelfMarkedPage":
            keys(table, pygame.K_SPACE, pygame.K_SPACE)
    elif table.screen_name == "FreePage":
        table.wait(2.0, frame_s=0.1)
        keys(table, pygame.K_RETURN)
    else:
        keys(table, pygame.K_SPACE)
        table.wait(60.0, frame_s=0.05)
    if table.screen_name == "MarkingScreen":
        keys(table, pygame.K_RETURN)
    assert table.screen_name == "ResultScreen"
    return request.stage.value, request.tempo_bpm is not None


def test_an_ordinary_guitar_is_practised_from_the_first_note_to_the_metronome(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP))
    keys(table, pygame.K_RETURN)
    taken = [take_through(table)]
    while taken[-1] != ("time", True) and len(taken) < 8:
        keys(table, pygame.K_RETURN)
        taken.append(take_through(table))
    assert taken == [("places", False), ("rhythm", False), ("rhythm", True), ("time", False), ("time", True)]
    keys(table, pygame.K_ESCAPE)
    assert table.screen_name == "ShelfScreen"
    table.context.session.log.flush()
    with table.context.session.log.reading() as connection:
        kept = connection.execute("SELECT self_marked, count(*) FROM take GROUP BY self_marked").fetchall()
    assert kept == [(1, 5)]
