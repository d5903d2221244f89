"""What the days of practice say of single notes, in words."""

import pytest

from game.music.names import NoteNames
from game.practice_log.queries.figure_records import NoteFigures
from game.report.student import Quicker
from game.screens.progress.progress_figures import Progress
from game.screens.progress.progress_words import notes_in_words
from tests.speaking import speaking


def note(written, find_s, cause=None):
    causes = ((cause, 2),) if cause else ()
    return NoteFigures(written=written, string=3, fret=5, read=9, clean=8, timed=5, find_s=find_s, causes=causes)


def told(names=NoteNames.ENGLISH, **of):
    return notes_in_words(Progress(**of), names)


def test_where_nothing_is_known_nothing_is_told():
    assert told() == ()


def test_the_slowest_notes_are_told_with_seconds_and_why_they_went_wrong():
    assert told(slowest=(note("C5", 3.5, "unknown"), note("Bb4", 2.25, "slip"), note("F#4", 1.0))) == (
        "Slowest: C5 3.5 s, B♭4 2.2 s (slip), F♯4 1.0 s.",
    )


def test_a_note_that_is_often_wrong_and_was_never_timed_is_told_without_seconds():
    assert told(slowest=(note("E5", None), note("C5", None, "slip"))) == (
        "Slowest: E5 often wrong, C5 often wrong (slip).",
    )


def test_a_cause_of_a_log_that_is_none_of_ours_is_left_out():
    assert told(slowest=(note("C5", 3.5, "moonlight"),)) == ("Slowest: C5 3.5 s.",)


@pytest.mark.parametrize(
    ("names", "said"), [(NoteNames.SOLFEGE, "si♭4"), (NoteNames.GERMAN, "B4"), (NoteNames.ENGLISH, "B♭4")]
)
def test_notes_are_called_as_the_player_calls_them(names, said):
    assert said in told(names, slowest=(note("Bb4", 2.0),))[0]


def test_what_got_quicker_is_told_from_before_to_now_behind_what_is_slow():
    gain = Quicker(written="A4", string=4, fret=7, before_s=2.0, now_s=1.25)
    assert told(quicker=(gain,)) == ("Quicker than last week: A4 2.0 to 1.2 s.",)
    assert len(told(quicker=(gain,), slowest=(note("C5", 3.5),))) == 2


def test_seconds_have_the_point_of_the_language():
    with speaking("de"):
        assert "3,5" in told(slowest=(note("C5", 3.5),))[0]
