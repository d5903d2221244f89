"""Brackets of endings as notation programs write them: closed, left open, cut short, at either bar line."""

from xml.etree import ElementTree as ET

import pytest

from game.music.score import BarMarks
from game.tunes.musicxml.ending_signs import with_endings

_CLOSING = '<repeat direction="backward"/>'


def ending(number, kind, text=""):
    return f'<ending number="{number}" type="{kind}">{text}</ending>'


def left(content):
    return f'<barline location="left">{content}</barline>'


def right(content, style=""):
    return f'<barline location="right">{f"<bar-style>{style}</bar-style>" if style else ""}{content}</barline>'


def brackets(*bars, signs=(), openings=(), codas=()):
    """The numbers over each bar, `[` before where a bracket begins and `]` behind where it ends; `signs` are the bars
    (from 0) that a repeat sign closes, `openings` those that one opens, `codas` bear a coda.
    """
    measures = [ET.fromstring(f"<measure>{bar}</measure>") for bar in bars]
    marks = with_endings(
        [
            BarMarks(repeat_end=2 * (bar in signs), repeat_start=bar in openings, coda=bar in codas)
            for bar in range(len(bars))
        ],
        measures,
    )
    return [
        "[" * mark.ending_starts + ",".join(str(number) for number in mark.endings) + "]" * mark.ending_stops
        for mark in marks
    ]


def test_a_bracket_runs_from_its_start_to_its_stop():
    assert brackets("", left(ending(1, "start")), "", right(ending(1, "stop")), "") == ["", "[1", "1", "1]", ""]


@pytest.mark.parametrize("kind", ["stop", "discontinue"])
def test_a_bracket_of_one_bar_starts_and_stops_in_it(kind):
    assert brackets(left(ending(2, "start")) + right(ending(2, kind)), "") == ["[2]", ""]


def test_a_start_at_a_right_bar_line_begins_with_the_next_bar():
    assert brackets(right(ending(1, "start")), right(ending(1, "stop")), "") == ["", "[1]", ""]


def test_a_stop_at_a_left_bar_line_ends_with_the_bar_before():
    second = left(ending(1, "stop") + ending(2, "start")) + right(ending(2, "stop"))
    assert brackets(left(ending(1, "start")), second, "") == ["[1]", "[2]", ""]


def test_a_start_and_a_stop_at_one_left_bar_line_are_a_bracket_of_that_bar():
    assert brackets("", left(ending(1, "start") + ending(1, "stop")), "") == ["", "[1]", ""]


def test_a_stop_without_a_start_is_a_bracket_of_its_bar_with_its_own_number():
    assert brackets("", right(ending(1, "stop")), left(ending(2, "start")) + right(ending(2, "stop"))) == [
        "",
        "[1]",
        "[2]",
    ]


def test_an_unclosed_bracket_runs_to_the_next_to_a_heavy_bar_line_or_to_the_end():
    assert brackets(left(ending(1, "start")), "", left(ending(2, "start")), "") == ["[1", "1", "[2", "2"]
    assert brackets(left(ending(1, "start")), right("", "light-light"), "") == ["[1", "1]", ""]
    assert brackets(left(ending(1, "start")), right("", "dashed"), "") == ["[1", "1", "1"]


def test_an_unclosed_bracket_ends_before_an_opening_sign_and_before_the_coda():
    assert brackets(left(ending(2, "start")), "", "", codas={2}) == ["[2", "2", ""]
    assert brackets(left(ending(2, "start")), "", "", openings={2}) == ["[2", "2", ""]


def test_an_unclosed_bracket_with_a_repeat_sign_later_is_drawn_over_its_first_bar():
    """How far it reaches is for the sections to tell."""
    assert brackets(left(ending(1, "start")), "", right(_CLOSING), "", signs={2}) == ["[1]", "", "", ""]


def test_a_bracket_drawn_beyond_its_repeat_sign_is_drawn_over_its_first_bar():
    assert brackets(left(ending(1, "start")), right(_CLOSING), right(ending(1, "stop")), "", signs={1}) == [
        "[1]",
        "",
        "",
        "",
    ]


@pytest.mark.parametrize(
    ("number", "text", "numbers"),
    [
        ("1, 2", "", "1,2"),
        ("1,2,3", "", "1,2,3"),
        ("1-3", "", "1,2,3"),
        ("1.–3.", "", "1,2,3"),
        ("3", "1.", "3"),
        ("", "2.", "2"),
        (" ", "1., 2.", "1,2"),
        ("0", "", "1"),
        ("x", "Fine", "1"),
        ("99", "", "1"),
    ],
)
def test_the_numbers_of_a_bracket_are_its_own_or_those_printed_over_it(number, text, numbers):
    """Of one that has neither, 1."""
    start = left(ending(number, "start", text))
    assert brackets(start + right(ending(number, "stop"))) == [f"[{numbers}]"]
