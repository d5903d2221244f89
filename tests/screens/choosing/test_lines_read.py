"""Which takes are unseen lines: those of fresh lines, by their titles, met for the first time."""

from datetime import date

from game.lines.levels import level_of
from game.lines.titles import line_title, sibling_title, single_notes_title
from game.music.keys import Key
from game.practice_log.queries.figure_records import SightReading
from game.screens.choosing.lines_read import lines_of, lines_read_or_none

F = Key(-1)


def sight(title):
    return SightReading(day=date(2026, 11, 24), title=title, stage="sight", notes=20, clean=17)


def test_lines_of_each_level_are_told_by_level_and_key_and_nothing_else_is_one():
    titles = [line_title(level_of(level), F) for level in range(1, 9)]
    others = [single_notes_title(F), sibling_title(titles[0], "reordered"), "Ode to Joy", "Five notes"]
    found = lines_of(tuple(map(sight, titles + others)))
    assert [(line.level, line.key) for line in found] == [(level, "F") for level in range(1, 9)]


def test_of_a_log_that_cannot_be_read_there_are_none(table, tmp_path):
    table.context.session.log.flush()
    (tmp_path / "practice.sqlite").write_text("this is no practice log", encoding="utf-8")
    assert lines_read_or_none(table.context.session) == ()
