"""What a key does to a tune being entered, step by step; no key here plays a note or leaves the page."""

from collections.abc import Callable
from typing import Final

import pygame

from game.screens.writing.head_rows import HeadRow, stepped_in, typed_in
from game.tunes.entering.corrections import inserted, lengthened, rubbed_out
from game.tunes.entering.entering import Entering, EntryStep, gone_back, moved
from game.tunes.entering.pitch_entry import respelled, taken_back
from game.tunes.entering.rhythm_entry import bar_inserted, bar_removed, last_bar_taken_back

RESPELL: Final = "#"
"""The sign that spells a note the other way."""

_ACROSS = {pygame.K_LEFT: -1, pygame.K_RIGHT: 1}
_UP = {pygame.K_UP: 1, pygame.K_DOWN: -1}


def by_key(state: Entering, event: pygame.event.Event, row: HeadRow) -> Entering:
    """The state after a key; `row` is the chosen one of the head. A key that means nothing changes nothing."""
    match state.step:
        case EntryStep.HEAD:
            return _in_head(state, event, row)
        case EntryStep.PITCHES:
            return _moved_or(state, event, taken_back)
        case EntryStep.RHYTHM:
            changes = {pygame.K_INSERT: bar_inserted, pygame.K_DELETE: bar_removed}
            return changes.get(event.key, lambda one: _moved_or(one, event, last_bar_taken_back))(state)
        case EntryStep.PAGE:
            return _on_page(state, event)


def _in_head(state: Entering, event: pygame.event.Event, row: HeadRow) -> Entering:
    if event.key in _ACROSS:
        return stepped_in(state, row, _ACROSS[event.key])
    if row.text is None:
        return state
    text = row.text(state.draft)
    if event.key == pygame.K_BACKSPACE:
        return typed_in(state, row, text[:-1])
    if event.unicode and event.unicode.isprintable():
        return typed_in(state, row, text + event.unicode)
    return state


def _moved_or(state: Entering, event: pygame.event.Event, take_back: Callable[[Entering], Entering]) -> Entering:
    if event.key in _ACROSS:
        return moved(state, _ACROSS[event.key])
    return take_back(state) if event.key == pygame.K_BACKSPACE else state


def _on_page(state: Entering, event: pygame.event.Event) -> Entering:
    if event.key in _UP:
        return lengthened(state, _UP[event.key], fine=bool(event.mod & pygame.KMOD_SHIFT))
    # On keyboards of different countries the sign stands on different keys.
    if event.unicode == RESPELL:
        return respelled(state)
    changes = {pygame.K_INSERT: inserted, pygame.K_DELETE: rubbed_out}
    if event.key in changes:
        return changes[event.key](state)
    return _moved_or(state, event, gone_back)
