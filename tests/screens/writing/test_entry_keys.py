"""What a key does on each step; a key that means nothing there changes nothing."""

import pygame
import pytest

from game.screens.writing.entry_keys import by_key
from game.screens.writing.head_rows import HEAD_ROWS
from game.tunes.entering.entering import EntryStep, in_step, opened
from tests.tunes.entering.made_taps import BEATS, rhythm_of, tapped_run, taps, with_pitches

TITLE, METER = HEAD_ROWS[0], HEAD_ROWS[4]


def key(name, text="", mod=0):
    return pygame.event.Event(pygame.KEYDOWN, key=name, unicode=text, mod=mod)


def on_page():
    return opened(tapped_run(with_pitches(8), taps(BEATS)).draft)


def test_letters_and_backspace_write_the_title():
    state = in_step(with_pitches(1), EntryStep.HEAD)
    for letter in "Ab":
        state = by_key(state, key(ord(letter.lower()), letter), TITLE)
    assert state.draft.title == "Ab"
    assert by_key(state, key(pygame.K_BACKSPACE, "\b"), TITLE).draft.title == "A"


def test_arrows_change_what_is_chosen():
    state = in_step(with_pitches(1), EntryStep.HEAD)
    assert by_key(state, key(pygame.K_RIGHT), METER).draft.meter.text == "3/4"
    assert by_key(state, key(ord("x"), "x"), METER) == state


def test_the_pencil_goes_along_the_pitches_and_backspace_takes_back():
    state = in_step(with_pitches(3), EntryStep.PITCHES)
    state = by_key(state, key(pygame.K_LEFT), TITLE)
    assert state.at == 2
    assert len(by_key(state, key(pygame.K_BACKSPACE), TITLE).draft.pitches) == 2


def test_in_the_rhythm_arrows_go_by_bars_and_backspace_takes_the_last_back():
    state = tapped_run(with_pitches(8), taps(BEATS))
    assert by_key(state, key(pygame.K_LEFT), TITLE).bar == 1
    assert len(by_key(state, key(pygame.K_BACKSPACE), TITLE).draft.onsets) == 4
    before = by_key(state, key(pygame.K_LEFT), TITLE)
    assert rhythm_of(by_key(before, key(pygame.K_INSERT), TITLE))[4][0] == 8
    assert len(rhythm_of(by_key(before, key(pygame.K_DELETE), TITLE))) == 4


def test_on_the_page_every_correction_has_its_key():
    state = on_page()
    longer = by_key(state, key(pygame.K_UP), TITLE)
    finer = by_key(state, key(pygame.K_UP, mod=pygame.KMOD_LSHIFT), TITLE)
    assert rhythm_of(longer)[1][0] > rhythm_of(finer)[1][0] > 1
    assert rhythm_of(by_key(longer, key(pygame.K_DOWN), TITLE)) == rhythm_of(state)
    assert len(by_key(state, key(pygame.K_INSERT), TITLE).draft.pitches) == 9
    assert len(by_key(state, key(pygame.K_DELETE), TITLE).draft.pitches) == 7
    # The sign has a key of its own in Germany, and is Shift and 3 in America.
    for name, mod in ((pygame.K_HASH, 0), (pygame.K_3, pygame.KMOD_LSHIFT)):
        assert by_key(state, key(name, "#", mod), TITLE).draft.pitches[0].respelled
    assert by_key(longer, key(pygame.K_BACKSPACE), TITLE).draft == state.draft
    assert by_key(state, key(pygame.K_RIGHT), TITLE).at == 1


@pytest.mark.parametrize("step", list(EntryStep))
def test_a_key_without_a_meaning_changes_nothing(step):
    state = in_step(on_page(), step)
    assert by_key(state, key(pygame.K_F12), METER) == state
