"""A whole practice with no instrument that is heard: an ordinary guitar, and the computer's keys."""

import pygame

from game.coach.stages import Stage
from game.settings import InstrumentKind, Settings
from tests.screens.table import Table


def keys(table, *row):
    for key in row:
        table.key(key)
        table.wait(0.2)


def test_an_ordinary_guitar_is_practised_from_the_first_note_to_the_metronome(tmp_path):
    table = Table(tmp_path, Settings(instrument=InstrumentKind.NO_PICKUP)).with_coach()
    keys(table, pygame.K_RETURN)
    assert table.screen_name == "SelfMarkedPage"
    while table.screen_name == "SelfMarkedPage":
        keys(table, pygame.K_SPACE, pygame.K_SPACE)
    assert table.screen_name == "ResultScreen"
    seen = set()
    for _ in range(6):
        keys(table, pygame.K_RETURN)
        seen.add(table.screen.tune.stage)
        if table.screen_name == "FreePage":
            table.wait(4.0)
            keys(table, pygame.K_RETURN)
        elif table.screen_name == "ClickPage":
            keys(table, pygame.K_SPACE)
            table.wait(60.0, frame_s=0.05)
        while table.screen_name == "SelfMarkedPage":
            keys(table, pygame.K_SPACE, pygame.K_SPACE)
        if table.screen_name == "MarkingScreen":
            keys(table, pygame.K_RETURN)
        assert table.screen_name == "ResultScreen"
        if Stage.TIME in seen:
            break
        keys(table, pygame.K_TAB) if table.screen.tune.stage is Stage.PLACES else None
        if table.screen_name != "ResultScreen":
            table.wait(4.0)
            keys(table, pygame.K_RETURN)
            if table.screen_name == "MarkingScreen":
                keys(table, pygame.K_RETURN)
    assert table.around.keeping is not None
    keys(table, pygame.K_ESCAPE)
    assert table.screen_name == "ShelfScreen"
