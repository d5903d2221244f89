"""Where alignment and click speak for different answers, a note in time by the click has it."""

from fractions import Fraction

import pytest

from game.judging.answers import NO_ANSWER, Answers, prefer_in_time
from game.judging.tolerance import timed_grid
from tests.judging.made_takes import expected_line, played_note

LINE = expected_line([60, 60, 60], [Fraction(1)] * 3)
GRID = timed_grid([note.note for note in LINE], tempo_bpm=120, window_ms=100)


def preferred(played, first, *, bias_s=0.0, leans_s=None, behind_click_s=(0.0, 0.0, 0.0), grid=GRID):
    """The answers after the click was asked. `played` are times and pitches, `first` what the alignment says."""
    notes = [played_note(sounding, at_s) for at_s, sounding in played]
    offsets_s = [0.0 if at == NO_ANSWER else notes[at].started_s - grid.onsets_s[i] for i, at in enumerate(first)]
    answers = Answers(first=list(first), offsets_s=offsets_s, used={at for at in first if at != NO_ANSWER})
    prefer_in_time(LINE, notes, answers, grid, behind_click_s, leans_s or [bias_s] * len(LINE))
    return answers


def test_a_note_in_time_that_answers_nothing_takes_the_place_of_one_that_is_not():
    answers = preferred([(0.02, 60), (0.15, 60)], [1, NO_ANSWER, NO_ANSWER])
    assert answers.first[0] == 0
    assert answers.offsets_s[0] == pytest.approx(0.02)
    assert answers.used == {0}


def test_an_answer_in_time_stays_even_where_another_is_nearer():
    assert preferred([(0.01, 60), (0.09, 60)], [1, NO_ANSWER, NO_ANSWER]).first[0] == 1


def test_a_wrong_note_in_time_is_not_preferred():
    assert preferred([(0.0, 61), (0.15, 60)], [1, NO_ANSWER, NO_ANSWER]).first[0] == 1


def test_of_two_in_time_the_nearer_to_the_click_is_taken():
    assert preferred([(-0.05, 60), (0.02, 60), (0.2, 60)], [2, NO_ANSWER, NO_ANSWER]).first[0] == 1


def test_a_neighbour_gives_up_a_note_that_is_out_of_its_time_and_off_the_bias():
    answers = preferred([(0.03, 60)], [NO_ANSWER, 0, NO_ANSWER])
    assert answers.first == [0, NO_ANSWER, NO_ANSWER]


@pytest.mark.parametrize(
    ("played", "first", "bias_s"),
    [
        ([(0.03, 60)], [NO_ANSWER, 0, NO_ANSWER], -0.45),  # the player always is as early as that
        ([(0.03, 60)], [NO_ANSWER, NO_ANSWER, 0], 0.0),  # no neighbour
        ([(0.03, 60), (0.05, 61)], [NO_ANSWER, 0, NO_ANSWER], 0.0),  # not alone in the window
    ],
)
def test_otherwise_a_neighbour_keeps_its_answer(played, first, bias_s):
    assert preferred(played, first, bias_s=bias_s).first == first


def test_a_neighbour_in_time_keeps_its_answer():
    """Wide windows overlap: 220 ms after the first note is 280 ms before the second."""
    wide = timed_grid([note.note for note in LINE], tempo_bpm=120, window_ms=300)
    assert preferred([(0.22, 60)], [NO_ANSWER, 0, NO_ANSWER], grid=wide).first == [NO_ANSWER, 0, NO_ANSWER]


def test_a_player_behind_the_click_is_asked_by_their_own_distance():
    answers = preferred([(0.5, 60), (0.7, 60)], [1, NO_ANSWER, NO_ANSWER], behind_click_s=(0.5, 0.0, 0.0))
    assert answers.first[0] == 0
    assert answers.offsets_s[0] == pytest.approx(0.0)


def test_the_click_corrects_nobody_who_wandered_from_it():
    """121 ms from where they usually are."""
    take = [(0.02, 60), (0.15, 60)]
    assert preferred(take, [1, NO_ANSWER, NO_ANSWER], leans_s=[0.121, 0.0, 0.0]).first[0] == 1
    assert preferred(take, [1, NO_ANSWER, NO_ANSWER], leans_s=[0.119, 0.0, 0.0]).first[0] == 0
