"""The marks in words: what is earned is underlined in ink, what is not in dashes of the pencil."""

import pygame

from game.desk.kit.mark_words import WordedMark, draw_marks, marks_width

MARKS = (WordedMark("found", earned=True), WordedMark("in time", earned=True, new="new"), WordedMark("signed", False))


def underline(canvas, left, right):
    """For each column of pixels below the words whether something is drawn there."""
    rows = range(canvas.px(104), canvas.px(113))
    paper = canvas.surface.get_at((0, 0))
    return [any(canvas.surface.get_at((x, y)) != paper for y in rows) for x in range(canvas.px(left), canvas.px(right))]


def test_they_take_the_room_they_say(canvas, drawn):
    draw_marks(canvas, MARKS, 200, 100)
    used = drawn(canvas)
    assert abs(used.width - canvas.px(marks_width(canvas, MARKS))) <= canvas.px(6)


def test_ink_is_one_stroke_and_pencil_has_gaps(canvas):
    draw_marks(canvas, MARKS[:1], 200, 100)
    draw_marks(canvas, MARKS[2:], 500, 100)
    width = marks_width(canvas, MARKS[:1])
    assert all(underline(canvas, 202, 198 + width))
    dashes = underline(canvas, 502, 498 + marks_width(canvas, MARKS[2:]))
    assert any(dashes)
    assert not all(dashes)


def test_a_mark_by_the_players_own_word_is_one_stroke_of_the_pencil_and_no_ink(canvas):
    by_word = (WordedMark("found", earned=True, by_word=True),)
    draw_marks(canvas, by_word, 200, 100)
    ink = pygame.Color(canvas.theme.read)
    columns, rows = range(canvas.px(204), canvas.px(240)), range(canvas.px(80), canvas.px(113))
    assert not any(canvas.surface.get_at((x, y)) == ink for x in columns for y in rows)
    assert all(underline(canvas, 204, 196 + marks_width(canvas, by_word)))
