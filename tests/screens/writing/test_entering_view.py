"""Where the pencil is, and what stands on the page beside the music."""

import pygame

from game.screens.writing.entering_view import EnteringView, EntryWords
from game.tunes.entering.entering import Entering, EntryStep, in_step, opened
from game.tunes.entering.rhythm_entry import begun, struck
from game.tunes.entering.tapped_rhythm import Tap
from tests.screens.table import Table
from tests.tunes.entering.made_taps import BEATS, tapped_run, taps, with_pitches

WORDS = EntryWords(status="what to do", beat="", keys=(), free=(), on="", row=0, typed=None)


def view_of(table, state):
    view = EnteringView(table.context, state)
    view.draw_entry(table.app.surface, WORDS)
    return view


def reds(table, area) -> int:
    """How much of the red pencil there is in an area of the window."""
    red = table.context.theme.accent
    pixels = (
        table.app.surface.get_at((x, y))[:3] for x in range(area.left, area.right) for y in range(area.top, area.bottom)
    )
    return sum(sum(abs(one - other) for one, other in zip(pixel, red, strict=True)) < 60 for pixel in pixels)


def test_the_neck_is_there_where_it_is_played(table, tmp_path):
    """Pitches are; for tapping, the lines to come are of more use."""
    state = opened(tapped_run(with_pitches(8), taps(BEATS)).draft)
    shown = {step: view_of(table, in_step(state, step)).neck is not None for step in EntryStep}
    assert [step for step, neck in shown.items() if neck] == [EntryStep.PITCHES, EntryStep.PAGE]
    with_guitar = Table(tmp_path / "other", guitar=True)
    assert view_of(with_guitar, state).neck is None


def test_the_pencil_stands_behind_the_last_pitch(table):
    view = view_of(table, in_step(with_pitches(8), EntryStep.PITCHES))
    last = view.music.box_of(7).group
    assert reds(table, pygame.Rect(last.right, last.top, 30, last.height)) > 0


def test_the_pencil_stands_under_the_note_that_is_corrected(table):
    state = opened(tapped_run(with_pitches(8), taps(BEATS)).draft)
    view = view_of(table, state)
    box = view.music.box_of(0)
    below = pygame.Rect(box.head.left, round(box.bottom_line_y), box.head.width, 4 * box.space_px)
    assert reds(table, below) > 0


def test_the_pencil_stands_under_the_bar_that_is_tapped_next(table):
    view = view_of(table, with_pitches(8))
    staff = view.music.staff_of_bar(0)
    assert reds(table, staff.move(0, staff.height)) > 0


def test_what_was_tapped_just_now_is_blue_and_what_waits_is_pencil(table):
    state = begun(with_pitches(8), zero_s=100.0, quarter_s=1.0)
    view = view_of(table, state)
    for tap in (Tap(at_s=100.0), Tap(at_s=101.0)):
        state = struck(state, tap)
    view.show(state)
    theme = table.context.theme
    assert [view._colours()[pitch] for pitch in (0, 1, 2, 7)] == [theme.read, theme.read, theme.pencil, theme.pencil]


def test_a_pitch_with_a_rhythm_is_ink(table):
    state = tapped_run(with_pitches(8), taps(BEATS))
    assert view_of(table, state)._colours() == {}


def test_on_the_head_there_is_an_empty_staff_whatever_was_entered(table):
    view = view_of(table, in_step(tapped_run(with_pitches(8), taps(BEATS)), EntryStep.HEAD))
    assert view.music.box_of(0) is None
    assert view.music.staff_of_bar(0) is not None


def test_rows_of_the_head_are_found_by_a_click(table):
    view = view_of(table, Entering(draft=with_pitches(1).draft))
    assert [view.row_at((300, view._row_y(row) + 4)) for row in (0, 5, 8)] == [0, 5, 8]
    assert view.row_at((300, 20)) is None
    assert view_of(table, with_pitches(1)).row_at((300, view._row_y(0) + 4)) is None


def test_in_a_run_only_the_music_is_drawn_until_something_else_is_new(table):
    view = view_of(table, with_pitches(8))
    view.show(begun(with_pitches(8), zero_s=100.0, quarter_s=1.0))
    first = EntryWords(status="tap", beat="1", keys=(), free=(), on="", row=0, typed=None)
    second = EntryWords(status="tap", beat="2", keys=(), free=(), on="", row=0, typed=None)
    drawn = [view.draw_entry(table.app.surface, words) for words in (first, first, second)]
    assert drawn == [True, False, True]
