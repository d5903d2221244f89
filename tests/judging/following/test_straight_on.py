"""The short way: as far as nothing is in doubt."""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.judging.following.followed import FollowedStep
from game.judging.following.player_clock import AT_THE_START, PlayerClock
from game.judging.following.straight_on import Standing, straight_on
from tests.judging.following.rows import GAP_S, Sound, answered, as_written, later, line_of, rows_of

LINE = line_of(3)
PERFECT = as_written(LINE)
BEGUN = Standing(-1, AT_THE_START, 0.0, 0)
WRONG = 90


def read(
    sounds: Sequence[Sound], asked: Sequence[int] = LINE, at: Standing = BEGUN
) -> tuple[Standing, list[FollowedStep]]:
    steps: list[FollowedStep] = []
    return straight_on(rows_of(asked, sounds), at, steps), steps


@given(st.lists(st.floats(-0.03, 0.03), min_size=len(LINE), max_size=len(LINE)), st.floats(-0.02, 0.02))
@settings(deadline=None)
def test_who_plays_as_written_is_read_to_the_end_with_the_clock_of_the_filter(spread_s: list[float], drift: float):
    """The innermost loop writes the filter out."""
    sounds = [(at_s + off_s, x) for (at_s, x), off_s in zip(as_written(LINE, drift=drift), spread_s, strict=True)]
    at, steps = read(sounds)
    assert answered(steps) == list(range(len(LINE)))
    clock = AT_THE_START
    for index, step in enumerate(steps):
        before, off_s = clock.moved(GAP_S if index else 0.0), sounds[index][0] - index * GAP_S
        assert step.surprise == pytest.approx(before.surprise(off_s))
        clock = before.corrected(off_s)
        assert step.clock == pytest.approx(clock)
    assert at == Standing(len(LINE) - 1, steps[-1].clock, 0.0, len(LINE))


def test_it_stops_before_the_first_note_that_is_in_doubt():
    for at in range(1, len(LINE)):
        standing, steps = read([*PERFECT[:at], *later(PERFECT[at:], 1.0)])
        assert (standing.written, standing.played) == (at - 1, at)
        assert answered(steps) == list(range(at))


def test_it_goes_on_from_where_it_is_set_and_leaves_alone_what_was_read():
    half, steps = read(PERFECT[:10])
    earlier = list(steps)
    standing = straight_on(rows_of(LINE, PERFECT), half, steps)
    assert steps[:10] == earlier
    assert (standing, steps) == read(PERFECT)


def test_the_lean_before_the_last_jump_is_handed_on():
    clock = PlayerClock(0.8, 0.0, 1e-4, 0.0, 1e-4)
    standing, steps = read(later(PERFECT, 0.8), at=Standing(-1, clock, 0.1, 0))
    assert {step.home_s for step in steps} == {standing.home_s} == {0.1}


@pytest.mark.parametrize("at", range(1, len(LINE) - 4))
def test_a_single_wrong_note_is_read_over_without_moving_the_clock(at: int):
    sounds = [*PERFECT]
    sounds[at] = (sounds[at][0] + 0.03, WRONG)
    standing, steps = read(sounds)
    assert standing.played == len(LINE)
    assert answered(steps) == list(range(len(LINE)))
    assert steps[at].clock.lean_s == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("at", range(1, len(LINE) - 4))
def test_a_single_note_left_out_is_read_over(at: int):
    standing, steps = read([*PERFECT[:at], *PERFECT[at + 1 :]])
    assert standing.played == len(LINE) - 1
    assert answered(steps) == [*range(at), *range(at + 1, len(LINE))]


@pytest.mark.parametrize("at", range(1, len(LINE) - 4))
def test_a_single_note_too_many_is_read_over(at: int):
    standing, steps = read([*PERFECT, (PERFECT[at][0] - 0.2, WRONG)])
    assert standing.played == len(LINE) + 1
    assert answered(steps) == [*range(at), None, *range(at, len(LINE))]


@pytest.mark.parametrize("apart", [1, 2, 3])
def test_two_faults_within_four_notes_are_left_to_the_search(apart: int):
    sounds = [*PERFECT]
    for at in (10, 10 + apart):
        sounds[at] = (sounds[at][0], WRONG)
    assert read(sounds)[0].played == 10


@pytest.mark.parametrize("at", [0, *range(len(LINE) - 3, len(LINE))])
def test_a_wrong_note_at_the_start_or_with_too_little_after_it_is_left_to_the_search(at: int):
    sounds = [*PERFECT]
    sounds[at] = (sounds[at][0], WRONG)
    assert read(sounds)[0].played == at


def test_which_of_two_alike_was_left_out_is_left_to_the_search():
    alike = [60, 62, 64, 65, 65, 67, 69, 71, 72, 74]
    sounds = as_written(alike)
    for left_out in (3, 4):
        standing, steps = read([*sounds[:left_out], *sounds[left_out + 1 :]], alike)
        assert standing.played < 5
        assert answered(steps) == list(range(standing.played))


@pytest.mark.parametrize(("other_s", "read_to"), [(-0.05, 10), (-0.03, 10), (0.03, 25), (0.12, 25), (0.3, 25)])
def test_of_two_notes_of_one_pitch_the_nearer_to_the_clock_is_not_passed_over(other_s: float, read_to: int):
    """A string touched just before the note is left to the search; a note plucked twice is read on over."""
    standing, steps = read([*PERFECT, (PERFECT[10][0] + other_s, PERFECT[10][1])])
    assert standing.played == len(steps) == read_to


def test_there_is_nothing_to_read_after_the_last_written_note():
    standing, steps = read([*PERFECT, (PERFECT[-1][0] + 0.4, LINE[-1]), (PERFECT[-1][0] + 0.8, WRONG)])
    assert standing.played == len(steps) == len(LINE)


def test_of_nothing_nothing_is_read():
    assert read([]) == (BEGUN, [])
    assert read(PERFECT, [])[0] == BEGUN
