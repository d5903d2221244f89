"""The column of the notes in work."""

from dataclasses import replace

import pygame
import pytest

from game.desk.kit.canvas import Canvas
from game.desk.sheet import Sheet
from game.desk.theme import PAPER
from game.music.names import NoteNames
from game.music.pitch import pitch
from game.music.score import Reading
from game.screens.reading.page_layout import PageLayout
from game.screens.reading.work_column import draw_work
from tests.screens.drawn_text import DrawnText
from tests.screens.reading.test_notes_in_work import work

NOTES = tuple(replace(work(), pitch=pitch(name)) for name in ("A3", "Eb4", "B4", "F#5", "A5"))


@pytest.mark.usefixtures("table")
@pytest.mark.parametrize("size", [(960, 600), (1280, 720), (3840, 2160)])
def test_it_stands_at_the_right_above_the_keys(size):
    sheet = Sheet(size)
    canvas = Canvas(pygame.Surface(size), sheet, PAPER)
    canvas.surface.fill(PAPER.paper)
    layout = PageLayout(width=size[0] / sheet.unit, height=size[1] / sheet.unit, column=True, string_row=True)
    draw_work(canvas, layout, NOTES, NoteNames.GERMAN, Reading.GUITAR)
    mask = pygame.mask.from_threshold(canvas.surface, PAPER.paper, (1, 1, 1, 255))
    mask.invert()
    rects = mask.get_bounding_rects()
    drawn = rects[0].unionall(rects[1:])
    assert drawn.left > sheet.px(layout.music_right + 10)
    assert drawn.right < sheet.px(layout.width - 40)
    assert drawn.bottom < sheet.px(layout.keys_middle - 14)


def test_a_note_beyond_the_staff_is_told_low_or_high(table, monkeypatch):
    drawn = DrawnText(monkeypatch)
    canvas = Canvas(table.app.surface, table.context.sheet, PAPER)
    draw_work(canvas, PageLayout(width=1280, height=720, column=True), NOTES, NoteNames.ENGLISH, Reading.GUITAR)
    assert {"low A", "E♭", "B", "F♯", "high A"} <= set(drawn.whole)
