"""Ink that fills notes by and by."""

from game.music.written import HeadId
from game.screens.reading.filling_ink import FillingInk

FIRST, SECOND = HeadId(0, 0), HeadId(0, 1)


def test_ink_fills_a_note_within_a_moment_in_four_steps(table):
    ink, theme = FillingInk(), table.context.theme
    ink.fill(frozenset({FIRST}), 0.0)
    seen = [ink.colours(theme, frame / 60).get(FIRST, theme.read) for frame in range(12)]
    assert seen[0] == theme.ink
    assert seen[-1] == theme.read
    assert len(set(seen)) == 5


def test_a_note_in_ink_is_not_filled_again_beside_the_next(table):
    ink = FillingInk()
    ink.fill(frozenset({FIRST}), 0.0)
    ink.fill(frozenset({FIRST, SECOND}), 5.0)
    assert ink.heads == {FIRST, SECOND}
    assert set(ink.colours(table.context.theme, 5.0)) == {SECOND}


def test_a_note_that_is_in_ink_no_longer_is_filled_anew_when_it_is_read_again(table):
    ink = FillingInk()
    ink.fill(frozenset({FIRST}), 0.0)
    ink.fill(frozenset(), 5.0)
    assert (ink.heads, ink.is_filling(5.0)) == (frozenset(), False)
    ink.fill(frozenset({FIRST}), 6.0)
    assert set(ink.colours(table.context.theme, 6.0)) == {FIRST}


def test_it_moves_until_the_picture_of_the_last_step_was_drawn():
    ink = FillingInk()
    assert not ink.is_filling(0.0)
    ink.fill(frozenset({FIRST}), 0.0)
    assert ink.is_filling(0.19)
    assert not ink.is_filling(0.3)
