"""Running text at a place."""

from game.desk.kit.canvas import Style
from game.desk.kit.lines_of_text import LEADING, draw_text_lines, text_lines
from game.desk.typography import Face


def test_it_takes_as_many_lines_as_it_needs_and_says_where_the_next_would_stand(canvas, drawn):
    style, text = Style(Face.TEXT, 22, canvas.theme.ink), "one line after the other, each no wider than its room"
    lines = text_lines(canvas, text, style, 200)
    assert " ".join(lines) == text
    assert len(lines) > 2
    after = draw_text_lines(canvas, text, (100, 150), style, 200)
    assert after == 150 + len(lines) * LEADING * 22
    room = canvas.rect(100, 128, 201, after - 128)
    assert room.inflate(4, 4).contains(drawn(canvas))
