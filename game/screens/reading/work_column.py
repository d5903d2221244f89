"""The column of the notes in work, at the right of a page that waits."""

from collections.abc import Sequence

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.small_staff import SMALL_STAFF, draw_small_staff
from game.desk.typography import Face, shortened
from game.music.clef import Clef
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import Pitch
from game.music.score import Reading
from game.screens.reading.notes_in_work import NoteInWork
from game.screens.reading.page_layout import PageLayout
from game.text.catalogue import say

_TITLE_BASELINE, _FIRST, _STEP = 134.0, 180.0, 92.0
_TO_LINE, _TO_NAME = 28.0, 16.0
_NAME_SIZE, _WORDS_SIZE = 28.0, 21.0


def draw_work(
    canvas: Canvas, layout: PageLayout, work: Sequence[NoteInWork], names: NoteNames, reading: Reading
) -> None:
    """Draw the column: of each note a small staff, its name, and what it has come to."""
    theme, left = canvas.theme, layout.column_left
    line_x = left - _TO_LINE
    hair = blend(theme.paper, theme.pencil, 0.6)
    draw_pencil(canvas, [(line_x, 115), (line_x + 1, layout.column_bottom)], 2, hair, 41)
    canvas.write(say("work.title"), (left, _TITLE_BASELINE), Style(Face.TITLE, 25, theme.ink))
    step = min(_STEP, (layout.column_bottom - _FIRST - 46) / max(1, len(work) - 1))
    for number, note in enumerate(work):
        top = _FIRST + number * step
        draw_small_staff(canvas, note.pitch, note.filled, (left, top), reading, met=note.met)
        x = left + SMALL_STAFF[0] + _TO_NAME
        room = canvas.px(layout.right - x)
        name = _named(note.pitch, names, reading.clef)
        canvas.write(name, (x, top + 26), Style(Face.TEXT, _NAME_SIZE, theme.ink))
        words = shortened(note.state_words, Face.ITALIC, canvas.px(_WORDS_SIZE), room)
        canvas.write(words, (x, top + 54), Style(Face.ITALIC, _WORDS_SIZE, theme.faded))


def _named(note: Pitch, names: NoteNames, clef: Clef) -> str:
    """Its name, and whether it lies beyond the staff."""
    name = name_in(spelling_of(note), names)
    if clef.above(note):
        return say("work.high", name=name)
    return say("work.low", name=name) if clef.below(note) else name
