"""Nobody goes back to the second note of a bar: jumps are made at bar lines where sound cannot tell."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.judging.following.bar_lines import move_jumps_to_bar_lines
from game.judging.following.follow_numbers import NEAR_BAR_LINE_S, RATE_START, VARIANCE_S2
from game.judging.following.followed import FollowedStep, TakeRows
from game.judging.following.follower import follow
from tests.judging.following.rows import (
    BAR_NOTES,
    GAP_S,
    Sound,
    answered,
    as_written,
    jumps,
    later,
    line_of,
    rows_of,
    steps_by_hand,
)
from tests.sampling import how_many

BAR_S = BAR_NOTES * GAP_S


def alike_at(*bars: int, notes: int) -> list[int]:
    """Six bars, of which these begin with the same notes."""
    line = line_of(6)
    for bar in bars:
        line[bar * BAR_NOTES : bar * BAR_NOTES + notes] = [50, 53, 51, 54, 52, 55, 50][:notes]
    return line


def without_bar(line: Sequence[int], bar: int) -> list[Sound]:
    sounds = as_written(line)
    return [*sounds[: bar * BAR_NOTES], *later(sounds[(bar + 1) * BAR_NOTES :], -BAR_S)]


def moved(rows: TakeRows) -> list[FollowedStep]:
    steps = follow(rows)
    move_jumps_to_bar_lines(rows, steps)
    return steps


@pytest.mark.parametrize("notes", range(1, 7))
@pytest.mark.parametrize("bar", [1, 2, 3])
def test_where_two_bars_begin_alike_the_whole_of_the_first_was_skipped(bar: int, notes: int):
    line = alike_at(bar, bar + 1, notes=notes)
    steps = moved(rows_of(line, without_bar(line, bar)))
    start, end = bar * BAR_NOTES, (bar + 1) * BAR_NOTES
    assert answered(steps) == [*range(start), *range(end, len(line))]
    assert jumps(steps) == [(start, start - 1, end)]


def test_before_that_the_follower_had_the_player_jump_within_the_bar():
    """Or nothing would be proved here."""
    line = alike_at(2, 3, notes=3)
    assert jumps(follow(rows_of(line, without_bar(line, 2)))) == [(19, 18, 27)]


@pytest.mark.parametrize("notes", range(1, 5))
def test_a_bar_gone_over_again_was_gone_over_from_its_beginning(notes: int):
    """The first notes of the second time might have been those of the next bar."""
    line = alike_at(2, 3, notes=notes)
    sounds = as_written(line)
    steps = moved(rows_of(line, [*sounds[: 3 * BAR_NOTES], *later(sounds[2 * BAR_NOTES :], BAR_S)]))
    assert answered(steps) == [*range(24), *range(16, 48)]
    assert jumps(steps) == [(24, 23, 16)]


def test_the_clocks_of_moved_notes_are_set_by_where_they_landed():
    line = alike_at(2, 3, notes=3)
    rows = rows_of(line, without_bar(line, 2))
    before, after = follow(rows), moved(rows)
    for step in after[16:19]:
        assert step.clock.lean_s == pytest.approx(-BAR_S)
        assert (step.clock.lean_variance, step.clock.rate_variance) == (VARIANCE_S2, RATE_START)
    assert [step.clock for step in after[19:]] == [step.clock for step in before[19:]]
    assert after[:16] == before[:16]
    jump, found = after[16].jump, before[19].jump
    assert jump is not None
    assert found is not None
    assert jump.by_s == found.by_s


def left_alone(rows: TakeRows, written: Sequence[int | None], *jumped: int) -> bool:
    """Whether nothing is moved of a take that was found to run so."""
    found = steps_by_hand(rows, written, *jumped)
    steps = [*found]
    move_jumps_to_bar_lines(rows, steps)
    return steps == found


ALIKE = alike_at(2, 3, notes=3)
SKIPPED = without_bar(ALIKE, 2)
FOUND = [*range(19), *range(27, 48)]


def test_a_jump_found_within_the_bar_is_moved():
    assert not left_alone(rows_of(ALIKE, SKIPPED), FOUND, 19)


@pytest.mark.parametrize("at", [16, 17, 18])
def test_it_stays_where_one_note_before_it_is_not_that_before_its_landing(at: int):
    sounds = [*SKIPPED]
    sounds[at] = (sounds[at][0], 90)
    assert left_alone(rows_of(ALIKE, sounds), FOUND, 19)


@pytest.mark.parametrize(("by_s", "stays"), [(0.8 * NEAR_BAR_LINE_S, False), (1.2 * NEAR_BAR_LINE_S, True)])
def test_it_stays_where_the_notes_before_it_came_at_another_time(by_s: float, stays: bool):
    """Who waits before the second note of a bar has gone back, or on, to that note."""
    rows = rows_of(ALIKE, [*SKIPPED[:19], *later(SKIPPED[19:], by_s)])
    assert left_alone(rows, FOUND, 19) is stays


def test_it_stays_where_a_note_too_many_stands_before_it():
    sounds = [*SKIPPED[:19], (SKIPPED[18][0] + 0.2, 90), *SKIPPED[19:]]
    assert left_alone(rows_of(ALIKE, sounds), [*range(19), None, *range(27, 48)], 20)


def test_it_is_not_moved_over_another_jump():
    assert left_alone(rows_of(ALIKE, SKIPPED), FOUND, 18, 19)


def test_it_stays_where_no_bar_lines_were_given():
    assert left_alone(replace(rows_of(ALIKE, SKIPPED), begins_bar=()), FOUND, 19)


def test_it_stays_where_the_bars_are_alike_only_from_their_second_note():
    line = [*ALIKE]
    line[24] = 56
    assert left_alone(rows_of(line, SKIPPED), FOUND, 19)


def test_it_is_moved_by_sixteen_notes_at_most():
    drum = [60] * 60
    far = replace(rows_of(drum, as_written(drum)[:40]), begins_bar=[k in (0, 20) for k in range(60)])
    assert left_alone(far, [*range(20), *range(37, 57)], 20)
    assert not left_alone(far, [*range(20), *range(36, 56)], 20)


def test_a_stop_is_no_jump_to_move():
    drum = [60] * 30
    rows = rows_of(drum, [*as_written(drum)[:10], *later(as_written(drum)[10:], 2.0)])
    assert left_alone(rows, list(range(30)), 10)


def test_who_landed_at_the_bar_line_stays_there():
    assert left_alone(rows_of(ALIKE, SKIPPED), [*range(16), *range(24, 48)], 16)


@given(st.integers(0, 10_000))
@settings(max_examples=how_many(40, by_default=10), deadline=None)
def test_moving_jumps_changes_who_answers_what_at_most_and_is_done_at_once(seed: int):
    """On figures that come again and again, where players went anywhere."""
    rng = Random(seed)
    line = [rng.choice((60, 62, 64)) for _ in range(BAR_NOTES)] * 6
    sounds, at = as_written(line), rng.randrange(4, 40)
    to = rng.randrange(max(0, at - 20), at + 8)
    steps = moved(rows := rows_of(line, [*sounds[:at], *later(sounds[to:], (at - to) * GAP_S + rng.uniform(0, 2))]))
    assert [step.played for step in steps] == list(range(at + len(line) - to))
    last = -1
    for step in steps:
        if step.jump is not None:
            assert (step.jump.played, step.jump.left, step.jump.to) == (step.played, last, step.written)
        elif step.written >= 0:
            assert step.written > last
        last = max(step.written, -1) if step.written >= 0 else last
    again = [*steps]
    move_jumps_to_bar_lines(rows, again)
    assert again == steps
