"""The stroke below a clean run stands under its notes, clear of print and marks, and its words once."""

import pygame
import pytest

from game.music.passage import whole_tune
from game.practice.pencilled import MissedMark, PlacedMark
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.page_lanes import print_of
from game.screens.reading.run_underline import RunUnderline
from tests.sampling import sample
from tests.screens.faulty_takes import crowded_tune
from tests.screens.table import Table

TUNE = whole_tune(crowded_tune(12))
NOTES = TUNE.notes


def page_with_run(table, first, last, marks=()):
    heads = tuple(head for note in NOTES[first:last] for head in note.heads)
    return MarkedPage(table.context, TUNE, marks, pygame.Rect(50, 140, 1100, 900), RunUnderline(heads, "so many"))


def test_it_stands_on_each_line_that_has_notes_of_it_and_its_words_where_most_are(table):
    page = page_with_run(table, 3, len(NOTES) - 3)
    run, rooms = page._run, page._run_rooms(page._page)
    touched = [line for line in page.in_sight if run.on_line(page._page, line)]
    assert len(touched) > 1
    assert [line for line, room in enumerate(rooms) if room] == touched
    assert max(rooms) == rooms[run.worded_line(page._page)] > min(room for room in rooms if room)


@pytest.mark.parametrize("size", sample([(960, 600), (1280, 720)], by_default=1))
def test_no_stroke_and_no_word_of_it_meets_print_or_a_mark(tmp_path, size, monkeypatch):
    table = Table(tmp_path, size=size)
    marks = [PlacedMark(note.heads[0], MissedMark()) for note in NOTES[::3]]
    page = page_with_run(table, 0, len(NOTES), marks)
    below = []
    monkeypatch.setattr(RunUnderline, "draw", lambda _self, _canvas, _page, line, at: below.append((line, at.top)))
    page.draw(pygame.Surface((1280, 1100)), {})
    rooms = page._run_rooms(page._page)
    down = 140 - page._page.lines[page.in_sight[0]].band[0]
    laid = list(page._pencil.rects(marks, table.context.theme))
    assert [line for line, _ in below] == list(page.in_sight)
    for line, top in below:
        lowest = max(rect.bottom for at, _, _, rect in laid if at == line)
        assert top - down >= lowest
        if line + 1 < len(page._page.lines):
            assert top - down + rooms[line] <= print_of(page._page, line + 1).top
