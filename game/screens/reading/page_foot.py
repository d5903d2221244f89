"""The foot of a page that is played: what is said, how far it is to signing, the marks, and the keys."""

from dataclasses import dataclass

from game.desk.kit.by_pencil import draw_pencil
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.mark_words import draw_marks, marks_width
from game.desk.typography import Face, shortened
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint
from game.screens.reading.page_layout import LEFT, PageLayout
from game.screens.reading.passage_climb import PassageClimb, distance_in_words, marks_in_words
from game.screens.shown_keys import draw_keys

_WORDS_SIZE, _SENTENCE_SIZE = 23.0, 27.0
_MARKS_BELOW, _KEYS_AT, _AFTER_MARKS = 7.0, 440.0, 40.0


@dataclass(frozen=True, slots=True, kw_only=True)
class PageFoot:
    """What stands there: `words` about the take, `climb` where the passage has one."""

    keys: tuple[KeyHint, ...]
    words: str
    climb: PassageClimb | None = None


def draw_foot(context: ScreenContext, canvas: Canvas, layout: PageLayout, foot: PageFoot) -> None:
    """Draw the foot, and let its keys be clicked."""
    pressed = tuple(key for key in foot.keys if key.presses and not key.on_sheet_only)
    left = LEFT
    if foot.climb:
        marks = marks_in_words(foot.climb)
        draw_marks(canvas, marks, LEFT, layout.keys_middle + _MARKS_BELOW)
        left = max(_KEYS_AT, LEFT + marks_width(canvas, marks) + _AFTER_MARKS)
    draw_keys(context, canvas.surface, pressed, left=left)
    context.window.tell_keys(tuple(key for key in foot.keys if key.on_sheet_only))
    if layout.string_row:
        told = tuple(key for key in foot.keys if not key.presses)
        draw_keys(context, canvas.surface, told, row=1, right=layout.music_right)
    if layout.ruled:
        hair = blend(canvas.theme.paper, canvas.theme.pencil, 0.55)
        draw_pencil(canvas, [(LEFT, layout.rule_y + 1), (layout.music_right - 52, layout.rule_y)], 1.6, hair, 18)
    distance = distance_in_words(foot.climb) if foot.climb else ""
    in_its_place = layout.words_baseline == layout.sentence_baseline
    if distance and not (foot.words and in_its_place):
        _write(
            canvas,
            distance,
            layout.sentence_baseline,
            layout.music_right,
            Style(Face.TEXT, _SENTENCE_SIZE, canvas.theme.ink),
        )
    if foot.words:
        quiet = Style(Face.ITALIC, _WORDS_SIZE, canvas.theme.faded)
        _write(canvas, foot.words, layout.words_baseline, layout.music_right, quiet)


def _write(canvas: Canvas, text: str, baseline: float, right: float, style: Style) -> None:
    shown = shortened(text, style.face, canvas.px(style.size), canvas.px(right - LEFT))
    canvas.write(shown, (LEFT, baseline), style)
