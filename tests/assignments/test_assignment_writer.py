"""An assignment as a file."""

import tomllib
from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment
from game.assignments.assignment_reader import assignment_from
from game.assignments.assignment_writer import assignment_text
from game.coach.stages import Stage
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.neck.tuning import TUNINGS
from game.text.clean_text import cleaned

texts = st.text(max_size=40).map(cleaned)


tempi = st.none() | st.integers(1, 400)


stages = st.lists(st.sampled_from(Stage), unique=True).map(tuple)


bars = st.none() | st.tuples(st.integers(0, 500), st.integers(500, 1000))


tunes = st.builds(
    AssignedTune, title=texts.filter(bool), file_name=st.just(""), bars=bars, stages=stages, target_bpm=tempi
) | st.builds(
    AssignedTune, title=st.just(""), file_name=st.just("waltz.musicxml"), bars=bars, stages=stages, target_bpm=tempi
)


lines = st.builds(AssignedLines, level=st.integers(1, 8), a_day=st.integers(1, 20), stages=stages, target_bpm=tempi)


maps = st.builds(
    standard_map,
    position=st.integers(1, 12),
    tuning=st.sampled_from(list(TUNINGS.values())),
    frets=st.integers(20, 24),
    reading=st.sampled_from(Reading),
)


assignments = st.builds(
    Assignment,
    title=texts.filter(bool),
    note=texts,
    due=st.none() | st.dates(),
    neck_map=st.none() | maps,
    tunes=st.lists(tunes, min_size=1, max_size=3).map(tuple),
    lines=st.lists(lines, max_size=3).map(tuple),
)


@given(assignments)
def test_what_was_written_is_read_back(assignment):
    assert assignment_from(assignment_text(assignment)) == assignment


def test_what_was_left_open_is_left_out():
    assert assignment_text(Assignment(title="Week 1")) == 'title = "Week 1"\n'


def test_all_that_can_be_set_stands_in_its_table():
    written = assignment_text(
        Assignment(
            title='Say "hello"',
            note="Slowly",
            due=date(2027, 1, 15),
            neck_map=standard_map(position=7),
            tunes=(AssignedTune(title="Ode to Joy", bars=(1, 4), stages=(Stage.PLACES, Stage.TIME), target_bpm=72),),
            lines=(AssignedLines(level=2, a_day=3),),
        )
    )
    assert written.splitlines() == [
        'title = "Say \\"hello\\""',
        'note = "Slowly"',
        "due = 2027-01-15",
        "",
        "[map]",
        "position = 7",
        'tuning = "standard"',
        "frets = 22",
        'read = "guitar"',
        "",
        "[[tune]]",
        'title = "Ode to Joy"',
        "bars = [1, 4]",
        'stages = ["places", "time"]',
        "tempo = 72",
        "",
        "[[line]]",
        "level = 2",
        "a_day = 3",
    ]


@given(st.text(max_size=40))
def test_whatever_text_stands_in_it_the_file_is_toml_and_holds_that_text(text):
    """TOML 1.0 by the reader of Python's own library."""
    assert tomllib.loads(assignment_text(Assignment(title=text)))["title"] == text
