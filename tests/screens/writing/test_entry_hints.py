"""Every key of every step is told, and has room."""

import pygame
import pytest

from game.desk.sheet import SMALLEST
from game.screens import shown_keys
from game.screens.writing import entering_view
from game.screens.writing.entry_hints import entry_hints, free_string_does, next_in_words
from game.text.catalogue import say
from game.text.language import languages
from game.tunes.entering.entering import EntryStep
from tests.sampling import sample
from tests.screens.table import Table
from tests.screens.told_keys import told_keys
from tests.screens.writing.writing_tables import new_tune, play_pitches
from tests.speaking import speaking


def told(step, **what) -> set[str]:
    return set(told_keys(entry_hints(step, **{"tapping": False, "typing": False, **what})))


def test_each_step_tells_its_keys_and_how_to_leave_and_its_corner_where_it_leads():
    for step in EntryStep:
        assert {"Tab", "Esc"} <= told(step)
        assert say(next_in_words(step, tapping=False, typing=False))
    assert {"Ins", "Del", "#", '"', "Space", "Shift", "← →", "↑ ↓"} <= told(EntryStep.PAGE)


def test_while_the_click_runs_or_a_chord_is_typed_only_those_keys_are_told():
    assert told(EntryStep.RHYTHM, tapping=True) == {"Space", "↓", "Backspace", "Esc"}
    assert next_in_words(EntryStep.RHYTHM, tapping=True, typing=False) == ""
    assert told(EntryStep.PAGE, typing=True) == {"Esc"}
    assert say(next_in_words(EntryStep.PAGE, tapping=False, typing=True)) == "Write it"


def test_no_letter_and_no_digit_is_a_key_for_those_play_the_neck():
    for step in EntryStep:
        assert not any(len(key) == 1 and key.isalnum() for keys in told(step) for key in keys.split())


def test_the_free_string_does_something_on_every_step_but_the_head():
    for step in EntryStep:
        assert bool(free_string_does(step, tapping=False, typing=False)) == (step is not EntryStep.HEAD)
    assert free_string_does(EntryStep.PAGE, tapping=False, typing=True) == ""
    assert free_string_does(EntryStep.RHYTHM, tapping=True, typing=False) == "keys.free_tapping"


@pytest.mark.parametrize("guitar", sample([False, True], by_default=1))
@pytest.mark.parametrize("language", sample(languages(), by_default=1))
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
        for key in (0, pygame.K_TAB, pygame.K_SPACE, pygame.K_ESCAPE, pygame.K_TAB, pygame.K_QUOTEDBL):
            table.key(key, '"' if key == pygame.K_QUOTEDBL else "")
            table.context.window.message_until_s = 0.0
            table.picture()
    assert len({keys for keys, _ in rows}) >= 6
    for keys, count in rows:
        # What may be told on the sheet of all keys alone comes last: Tab, and Shift for a finer step.
        assert count >= len(keys) - 2, keys[count:]
