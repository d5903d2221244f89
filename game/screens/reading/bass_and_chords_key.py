"""One key, wherever a line is heard as it is written: bass and chords beside it, or the line alone.

It is the setting itself that the key changes, and what sounds at the moment changes with it.
"""

import pygame

from game.audio.chord_spans import chord_in_force, chord_spans
from game.music.accompanying import Accompanied
from game.music.passage import Passage
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints

BASS_AND_CHORDS_KEY = pygame.K_c


def has_chords(passage: Passage) -> bool:
    """Whether a chord sounds anywhere in a passage."""
    return bool(chord_spans(passage.bars, before=chord_in_force(passage.score.bars[: passage.start])))


def bass_and_chords_hint(context: ScreenContext) -> tuple[KeyHint, ...]:
    """The key, and whether bass and chords are on."""
    off = context.settings.accompanied is Accompanied.NOTHING
    return key_hints(("C", "keys.band_off" if off else "keys.band_on"))


def toggle_bass_and_chords(context: ScreenContext) -> None:
    """Bass and chords off, or on again as they were before."""
    was, window = context.settings.accompanied, context.window
    if was is Accompanied.NOTHING:
        wanted = window.accompanied_before
    else:
        wanted, window.accompanied_before = Accompanied.NOTHING, was
    context.change_settings(context.settings.changed("accompanied", wanted))
