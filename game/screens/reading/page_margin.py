"""What stands beside the music: the ladder of a passage in time with the click."""

import pygame

from game.coach.marks import Mark
from game.desk.kit.by_pencil import pencil_words
from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.ladder import LadderRoom, draw_ladder
from game.desk.typography import Face
from game.screens.reading.ladder_rungs import drawn_rung
from game.screens.reading.passage_climb import PassageClimb, below_ladder
from game.text.catalogue import say

_LABEL_SIZE, _LINE = 21.0, 24.0


def draw_climb(canvas: Canvas, climb: PassageClimb, room: LadderRoom) -> tuple[tuple[pygame.Rect, int], ...]:
    """The ladder with what is said above and below it; returns what can be clicked, and the tempo of each."""
    hits = draw_ladder(canvas, [drawn_rung(rung) for rung in climb.rungs], room)
    middle = room.left + room.width / 2
    if climb.rungs and climb.rungs[-1].target:
        quiet = Style(Face.ITALIC, _LABEL_SIZE, canvas.theme.faded)
        canvas.write(say(f"book.{Mark.SIGNED_OFF.value}"), (middle, room.top - 10), quiet, Align.CENTRE)
    for line, words in enumerate(below_ladder(climb)):
        at = (middle, room.bottom + 30 + line * _LINE)
        pencil_words(canvas, words, at, Style(Face.ITALIC, _LABEL_SIZE, canvas.theme.pencil), Align.CENTRE)
    return tuple((hit, rung.tempo_bpm) for hit, rung in zip(hits, climb.rungs, strict=True))
