"""What people write by hand is told in words of ours, all of it at once."""

import pytest

from game.assignments.assignment import AssignmentError
from game.assignments.assignment_reader import assignment_and_faults, assignment_from
from game.assignments.written_by_hand import MOST_LETTERS, MOST_LINES, table_by_hand
from game.text.catalogue import tell


def told(text):
    with pytest.raises(AssignmentError) as refused:
        assignment_from(text)
    said = tell(refused.value.message)
    assert "TOML" not in said
    assert "\n" not in said
    return said


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("due = 7.12.2026", "due is a date without quotation marks, such as 2026-12-24, not '7.12.2026'"),
        ("due = 12/7/2026  # Monday", "not '12/7/2026'"),
        ("due = 2026-02-30", "due: the calendar has no 2026-02-30"),
        ('due = "2026-02-30"', "due: the calendar has no 2026-02-30"),
        ("note = Eyes on the page", 'text line 2: text stands between quotation marks: note = "Eyes on the page"'),
        ("note = „Langsam“", 'text line 2: write it with straight quotation marks and plain spaces: note = "Langsam"'),
        ("due\N{NO-BREAK SPACE}= 2026-12-07", "text line 2: write it with straight quotation marks and plain spaces"),
        ('note = "never closed', 'text line 2: text stands between quotation marks: note = "never closed"'),
        ("due: 2026-12-07", 'text line 2: a field and its value are wanted here, such as title = "…", not \'due: 2026'),
        ('title = "again"', "text line 2: title stands there twice"),
        ("fällig = 2026-12-07", "'fällig' is not known here"),
    ],
)
def test_a_line_by_hand_is_told_as_what_it_was_meant_for(line, said):
    text = f'title = "Übung"\r\n{line}\r\n\r\n[[tune]]\r\ntitle = "Ode to Joy"\r\n'
    assert said in told(text)
    assignment, faults = assignment_and_faults(text)
    assert (len(faults), assignment.title, assignment.tunes[0].title) == (1, "Übung", "Ode to Joy")


def test_all_such_lines_are_told_at_once_with_what_is_wrong_elsewhere():
    text = (
        "title = Übung\ndue = 7.12.2026\nduo = 3\n[[tune]\ntitle = “Ode to Joy”\nbars = 5-8\ntempo = 72 bpm\n"
        "stages = [\n  „places“,\n]\n[[line]]\nlevel = 99\n[map]\nposition = V\n[map]\nposition = 7\n"
    )
    said = told(text)
    for one in (
        'title = "Übung"', "'7.12.2026'", "'duo'", "'[[tune]'", 'title = "Ode to Joy"', "'5-8'", "'72 bpm'",
        "line 1: level", "map: position", "map stands there twice",
    ):  # fmt: skip
        assert one in said


def test_tables_with_one_bracket_are_told_wherever_more_than_one_stands():
    said = told('title = "x"\n[tune]\ntitle = "a"\n[tune]\ntitle = "b"\n')
    assert said.count("tune begins with [[tune]] on a line of its own") == 2
    assert "twice" not in said


def test_a_heading_that_nobody_knows_is_told_and_not_what_stands_below_it():
    said = told('title = "x"\n[[stück]]\ntitle = "a"\n[[line]]\nlevel = 1\n')
    assert "'stück' is not known here" in said
    assert "twice" not in said


def test_values_that_go_on_over_lines_are_read_as_they_stand():
    text = 'title = "x"\nnote = """\ndue = 7.12.\n"""\n[[line]]\nlevel = 1\nstages = [\n  "places",\n  "time",\n]\n'
    assignment, faults = assignment_and_faults(text + "tempo = 60 bpm\n")
    assert (assignment.note, len(assignment.lines[0].stages), len(faults)) == ("due = 7.12.", 2, 1)


@pytest.mark.parametrize(
    "text", ["=\n" * (MOST_LINES + 1), "x = y" + "z" * MOST_LETTERS, "[[map.home]]\n[map.home]\nx = y\n"]
)
def test_what_is_too_long_or_too_far_off_is_left_to_the_reader_of_toml(text):
    assert table_by_hand(text) is None
    with pytest.raises(AssignmentError) as refused:
        assignment_from(text)
    assert "TOML" in tell(refused.value.message)


@pytest.mark.parametrize(
    "text", ["x = [\n" * 290, 'x = """\n' * 290, "=" * 20_000, "[" * 20_000, "a.a.a" * 3000, "[]\n=", "'"]
)
def test_a_hostile_text_ends_in_one_sentence(text):
    with pytest.raises(AssignmentError) as refused:
        assignment_from(text)
    assert "\n" not in tell(refused.value.message)
