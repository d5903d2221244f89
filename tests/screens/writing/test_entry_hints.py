"""Every key of every step is told, and has room."""

import pygame
import pytest

from game.desk.sheet import SMALLEST
from game.screens import shown_keys
from game.screens.key_hints import KeyHint
from game.screens.writing import entering_view
from game.screens.writing.entry_hints import entry_hints, free_string_does
from game.text.language import languages
from game.tunes.entering.entering import EntryStep
from tests.screens.table import Table
from tests.screens.told_keys import told_keys
from tests.screens.writing.writing_tables import new_tune, play_pitches
from tests.speaking import speaking


def told(step, **what) -> set[str]:
    rows = entry_hints(step, **{"tapping": False, "typing": False, **what})
    return set(told_keys(key for row in rows for key in row))


def test_each_step_tells_its_keys_and_how_to_go_on_and_leave():
    for step in EntryStep:
        assert {"Tab", "Enter", "Esc"} <= told(step)
    assert {"F5", "Del", "F10", "F11", "Space", "Shift", "← →", "↑ ↓"} <= told(EntryStep.PAGE)


def test_while_the_click_runs_or_a_chord_is_typed_only_those_keys_are_told():
    assert told(EntryStep.RHYTHM, tapping=True) == {"Space", "↓", "Backspace", "Esc"}
    assert told(EntryStep.PAGE, typing=True) == {"Enter", "Esc"}


def test_the_free_string_is_told_in_the_uppermost_row_of_every_step_on_which_it_does_something():
    free = (KeyHint(("6",), "take back"),)
    for step in EntryStep:
        does = free_string_does(step, tapping=False, typing=False)
        assert bool(does) == (step is not EntryStep.HEAD)
        assert entry_hints(step, tapping=False, typing=False, free=free)[-1] == free
    assert free_string_does(EntryStep.PAGE, tapping=False, typing=True) == ""
    assert free_string_does(EntryStep.RHYTHM, tapping=True, typing=False) == "keys.free_tapping"


@pytest.mark.parametrize("guitar", [False, True])
@pytest.mark.parametrize("language", languages())
def test_every_key_of_every_step_has_room_in_the_smallest_window(tmp_path, monkeypatch, language, guitar):
    rows = []

    def drawn(context, surface, keys, **row):
        rows.append((keys, shown_keys.draw_keys(context, surface, keys, **row)))
        return rows[-1][1]

    monkeypatch.setattr(entering_view, "draw_keys", drawn)
    with speaking(language):
        table = Table(tmp_path, size=SMALLEST, guitar=guitar)
        new_tune(table)
        play_pitches(table, (52, 53))
        for key in (0, pygame.K_TAB, pygame.K_SPACE, pygame.K_ESCAPE, pygame.K_TAB, pygame.K_SPACE):
            table.key(key)
            table.context.window.message_until_s = 0.0
            table.picture()
    assert len({keys for keys, _ in rows}) >= 6
    for keys, count in rows:
        assert count == len(keys), keys[count:]
