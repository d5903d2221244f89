"""Why each step of the plan, in the words of the catalogue."""

from dataclasses import replace

import pytest

from game.coach.marks import Mark
from game.coach.plan.plan_reasons import new_tune, note_at, passage, signed_off, slow_notes, tune_at_sight, warm_up
from game.music.names import NoteNames
from game.text.catalogue import tell
from tests.coach.plan.situations import DONE, FORD, MILL, read

ENGLISH = NoteNames.ENGLISH
NOTES = {key.written: key for key in read()}
A, C, G, F = (NOTES[name] for name in ("A4", "C5", "G4", "F4"))


def test_a_note_is_called_by_the_player_and_has_its_home():
    assert tell(note_at(A, ENGLISH)) == "A on string 4, fret 7"
    assert tell(note_at(A, NoteNames.SOLFEGE)) == "la on string 4, fret 7"


@pytest.mark.parametrize(
    ("due", "slow", "said"),
    [
        ([A, C, G], [F], "To warm up: A on string 4, fret 7 and 2 more, before you forget."),
        ([A], [C], "To warm up: A on string 4, fret 7, before you forget."),
        ([], [A, C, G, F], "To warm up, pitch only: A, C and G."),
        ([], [], "A few notes to begin with, pitch only."),
    ],
)
def test_a_warm_up_is_on_what_is_due_or_slow(due, slow, said):
    """Three are named at most."""
    assert tell(warm_up(due, slow, ENGLISH)) == said


def test_the_slowest_note_is_named_with_its_seconds():
    assert tell(slow_notes([(A, 2.04)], ENGLISH)) == "A on string 4, fret 7 takes you longest, 2.0 s."
    assert tell(slow_notes([(A, 2.04), (C, 1.9)], ENGLISH)).endswith("2.0 s, then C.")
    assert slow_notes([], ENGLISH).key == "plan.notes_hardly_met"


@pytest.mark.parametrize(
    ("standing", "key"),
    [
        (MILL, "plan.passage_on_the_way"),
        (replace(MILL, half_day=99), "plan.sign_off_due"),
        (replace(FORD, marks=(), last_day=None), "plan.next_bars"),
        (replace(MILL, tempo_bpm=96), "plan.passage_at_target"),
        (replace(MILL, target_bpm=None), "plan.passage_found"),
        (FORD, "plan.passage_found"),
        (replace(FORD, marks=()), "plan.passage_left_off"),
        (replace(MILL, marks=(Mark.IN_TIME,), tempo_bpm=None), "plan.passage_left_off"),
    ],
)
def test_a_passage_says_how_far_it_has_come(standing, key):
    assert passage(standing).key == key


def test_tunes_and_endings_are_called_by_their_titles():
    assert all("The Heron" in tell(said) for said in (tune_at_sight("The Heron"), new_tune("The Heron")))
    assert "The Gate" in tell(signed_off(DONE, is_due=True))
    assert signed_off(DONE, is_due=False) != signed_off(DONE, is_due=True)


def test_where_the_notes_are_not_sure_yet_it_says_that_the_rhythm_comes_first():
    said = tell(passage(replace(FORD, marks=(), rhythm_first=True)))
    assert said == "Its rhythm first today, on any one note, at your own pace; then the notes again."
