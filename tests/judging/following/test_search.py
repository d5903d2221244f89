"""The long way: hypotheses about where a player is, note by note."""

from collections.abc import Sequence
from dataclasses import replace
from math import log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.judging.following import follow_numbers as cost_of
from game.judging.following.followed import NOBODY, TakeRows
from game.judging.following.player_clock import AT_THE_START, PlayerClock, clock_at
from game.judging.following.search import Hypothesis, Trail, after_note, begins_bar, is_settled
from game.neck.tuning import Place
from tests.judging.following.rows import BAR_NOTES, GAP_S, Sound, as_written, line_of, rows_of
from tests.sampling import how_many

LINE = line_of(6)
BEGUN = Hypothesis(0.0, -1, AT_THE_START, 0, 0.0, None)
SURE_CLOCK = PlayerClock(0.0, 0.0, 1e-4, 0.0, 1e-5)
ANY_SOUNDS = st.lists(st.tuples(st.floats(-1.0, 12.0), st.integers(58, 70)), min_size=1, max_size=20)
ANY_LINE = st.lists(st.integers(58, 70), max_size=30)
WIDE = 10_000


def at_note(i: int) -> Hypothesis:
    """Where a player is sure to be: at note i, with the click."""
    return Hypothesis(0.0, i, SURE_CLOCK, 8, 0.0, None)


def beams(rows: TakeRows, width: int) -> list[list[Hypothesis]]:
    """The hypotheses after each note."""
    beam, found = [BEGUN], []
    for j in range(len(rows.times_s)):
        beam = after_note(rows, beam, j, width)
        found.append(beam)
    return found


def cost_to(rows: TakeRows, guess: Hypothesis, written: int, j: int = 0) -> float:
    """What the likeliest hypothesis costs that answers `written` with played note j."""
    found = after_note(rows, [guess], j, WIDE)
    return min(g.cost for g in found if g.trail is not None and g.trail.step.written == written)


# What holds of every beam.
@given(ANY_LINE, ANY_SOUNDS, st.integers(1, 30))
@settings(max_examples=how_many(50, by_default=12), deadline=None)
def test_the_width_is_never_exceeded_and_the_cheapest_stand_first(asked: list[int], sounds: list[Sound], width: int):
    for beam in beams(rows_of(asked, sounds), width):
        costs = [guess.cost for guess in beam]
        assert 1 <= len(beam) <= width
        assert costs == sorted(costs)
        assert costs[-1] <= costs[0] + cost_of.BEAM_WIDTH


@given(ANY_LINE, ANY_SOUNDS)
@settings(max_examples=how_many(50, by_default=12), deadline=None)
def test_no_two_hypotheses_read_the_same_note_last_with_the_same_lean(asked: list[int], sounds: list[Sound]):
    for beam in beams(rows_of(asked, sounds), 24):
        keys = [(guess.written, round(guess.clock.lean_s * cost_of.BINS_PER_S)) for guess in beam]
        assert len(set(keys)) == len(keys)


@given(ANY_LINE, ANY_SOUNDS)
@settings(max_examples=how_many(50, by_default=12), deadline=None)
def test_every_hypothesis_accounts_for_every_note(asked: list[int], sounds: list[Sound]):
    """And the likeliest becomes cheaper by no more than a note in time gains."""
    rows, before = rows_of(asked, sounds), 0.0
    for j, beam in enumerate(beams(rows, 24)):
        for guess in beam:
            told, trail = [], guess.trail
            while trail is not None:
                told.append(trail.step.played)
                trail = trail.before
            assert told == list(range(j, -1, -1))
        assert beam[0].cost >= before - log(cost_of.FREE_S2 / cost_of.VARIANCE_S2) / 2
        before = beam[0].cost


def test_a_right_note_in_time_is_the_likeliest_and_that_it_was_one_too_many_stays_an_account():
    beam = after_note(rows_of(LINE, as_written(LINE)), [BEGUN], 0, 24)
    assert beam[0].written == 0
    assert any(guess.trail is not None and guess.trail.step.written == NOBODY for guess in beam)


# What things cost.
def test_each_note_passed_over_costs_as_much_again():
    rows = rows_of(LINE, [(12 * GAP_S, 90)], beat_s=0.8)
    at_11, at_10 = (cost_to(rows, at_note(11 - back), 12) for back in (0, 1))
    assert at_10 - at_11 == pytest.approx(cost_of.MISSED, abs=0.1)


def test_a_right_pitch_costs_less_than_a_wrong_one_and_at_another_place_a_little_more():
    right, wrong = (rows_of(LINE, [(12 * GAP_S, pitch)]) for pitch in (LINE[12], 90))
    home, elsewhere = Place(1, 5), Place(2, 10)
    placed = [replace(right, homes=[home] * len(LINE), places=[place]) for place in (home, elsewhere, None)]
    costs = [cost_to(rows, at_note(11), 12) for rows in (right, wrong, *placed)]
    assert costs[1] == pytest.approx(costs[0] + cost_of.WRONG)
    assert costs[2:] == pytest.approx([costs[0], costs[0] + cost_of.OTHER_PLACE, costs[0]])


def extra_cost(sounds: Sequence[Sound], after: Hypothesis, j: int) -> float:
    """What it costs that played note j answers nothing."""
    return cost_to(rows_of(LINE, sounds), after, NOBODY, j) - after.cost


def test_a_note_too_many_costs_less_where_it_is_the_last_pitch_again_or_mends_a_wrong_one():
    due_s, pitch = 12 * GAP_S, LINE[12]
    rows = rows_of(LINE, [(due_s, 90), (due_s + 0.3, pitch)])
    wrong = next(g for g in after_note(rows, [at_note(11)], 0, WIDE) if g.written == 12)
    for apart_s, cost in ((0.3, cost_of.EXTRA_MENDS), (0.1, cost_of.EXTRA)):
        assert extra_cost([(due_s, 90), (due_s + apart_s, pitch)], wrong, 1) == pytest.approx(cost)
    again = [(due_s, pitch), (due_s + 0.2, pitch)]
    right = next(g for g in after_note(rows_of(LINE, again), [at_note(11)], 0, WIDE) if g.written == 12)
    assert extra_cost(again, right, 1) == pytest.approx(cost_of.EXTRA_AGAIN)


# Where a player may have gone.
def landed(rows: TakeRows, i: int) -> set[int]:
    """Where a player at note i may be who plays a note that fits no time near."""
    found = after_note(rows, [at_note(i)], 0, WIDE)
    return {guess.written for guess in found if guess.trail is not None and guess.trail.step.jump is not None}


def test_a_player_may_have_gone_to_any_note_of_the_pitch_within_reach():
    line = line_of(20)
    rows = rows_of(line, [(150.0, line[100])])
    ahead_too_dear = 4 / cost_of.SKIP_EACH
    back = {k for k in range(100 - cost_of.FARTHEST_JUMP, 101) if line[k] == line[100]}
    found = landed(rows, 100)
    assert {k for k in found if k <= 100} == back
    assert all(line[k] == line[100] and k - 100 < 2 * ahead_too_dear for k in found)


def test_among_many_notes_alike_a_player_goes_to_near_ones_to_bar_lines_or_to_the_beginning():
    rows = rows_of([60] * 200, [(150.0, 60)])
    found = landed(rows, 70)
    near = set(range(70 - cost_of.NEAR_BACK, 70 + cost_of.NEAR_AHEAD + 1))
    bar_lines = {k for k in range(70 - cost_of.FARTHEST_JUMP, 70) if k % BAR_NOTES == 0}
    assert near | bar_lines | {0, 1} == {k for k in found if k <= 72}
    assert all(k % BAR_NOTES == 0 for k in found if k > 72)


def test_going_back_is_no_account_where_there_was_no_time_for_it():
    """Nobody plays a note for the second time before it is due."""
    line = [60, 62, 64, 65, 67, 69, 71, 72] * 4
    later, earlier = rows_of(line, [(13.0, 60)]), rows_of(line, [(-30.0, 60)])
    assert {8, 16} <= landed(later, 18)
    assert min(landed(earlier, 18)) > 18


def test_who_lands_where_a_bar_begins_is_likelier_to_have_gone_there():
    rows = rows_of([60] * 64, [(40.0, 60)])
    costs = {k: cost_to(rows, at_note(20), k) for k in (15, 16, 17)}
    steps = costs[15] - costs[16], costs[17] - costs[16]
    assert steps == pytest.approx((cost_of.BAR_GAIN + cost_of.BACK_EACH, cost_of.BAR_GAIN - cost_of.BACK_EACH))


def test_who_comes_back_to_a_time_they_kept_before_is_likelier_to_have_done_so():
    rows, kept = rows_of(LINE, [(12 * GAP_S + 2.0, LINE[12])]), at_note(11)
    fresh = cost_to(rows, kept, 12)
    assert fresh - cost_to(rows, kept._replace(home_s=2.05), 12) == pytest.approx(cost_of.REJOIN_GAIN)
    assert cost_to(rows, kept._replace(home_s=1.9), 12) == pytest.approx(fresh)


def test_the_clock_after_a_jump_stands_where_the_note_landed_and_the_one_before_is_remembered():
    rows, guess = rows_of(LINE, [(12 * GAP_S + 2.0, LINE[12])]), at_note(11)._replace(clock=clock_at(0.1, 0.0, 1e-5))
    found = next(g for g in after_note(rows, [guess], 0, WIDE) if g.written == 12)
    assert found.clock.lean_s == pytest.approx(2.0)
    assert found.home_s == pytest.approx(0.1)
    assert found.trail is not None
    jump = found.trail.step.jump
    assert jump is not None
    assert (jump.played, jump.left, jump.to) == (0, 11, 12)
    assert jump.by_s == pytest.approx(1.9)


@pytest.mark.parametrize("known", [1e-5, 0.1])
def test_a_jump_leaves_the_players_tempo_and_makes_it_as_unsure_as_at_the_start(known: float):
    rows, guess = rows_of(LINE, [(12 * GAP_S + 2.0, LINE[12])]), at_note(11)._replace(clock=clock_at(0.1, 0.02, known))
    found = next(g for g in after_note(rows, [guess], 0, WIDE) if g.written == 12)
    assert (found.clock.rate, found.clock.rate_variance) == (0.02, AT_THE_START.rate_variance)


# When a search is over.
def rival(lead: float, **changes: object) -> Hypothesis:
    return at_note(30)._replace(cost=lead, **changes)


def top(right: int) -> Hypothesis:
    return at_note(20)._replace(right=right)


@pytest.mark.parametrize(("right", "lead"), cost_of.SURE)
def test_a_search_is_over_after_so_many_right_notes_with_such_a_lead(right: int, lead: float):
    assert is_settled([top(right), rival(lead)])
    assert not is_settled([top(right), rival(lead - 0.1)])
    assert not is_settled([top(right - 1), rival(lead)])


@given(st.integers(0, 30), st.floats(0, 11), st.integers(0, 10), st.floats(0, 5))
def test_more_right_notes_or_a_greater_lead_never_open_a_search_again(right, lead, more, further):
    if is_settled([top(right), rival(lead)]):
        assert is_settled([top(right + more), rival(lead + further)])


@pytest.mark.parametrize("right", [0, 1])
def test_one_right_note_settles_nothing_even_where_there_is_no_other_account(right: int):
    assert not is_settled([top(right)])
    assert is_settled([top(2)])


def test_that_the_last_note_was_one_too_many_is_no_other_account():
    assert is_settled([top(2), rival(5.0, written=19, right=0)])
    assert not is_settled([top(2), rival(5.0, written=18, right=0)])
    assert not is_settled([top(2), rival(5.0, written=19, right=1)])


def test_the_same_note_at_another_time_is_another_account():
    away = clock_at(cost_of.SAME_LEAN_S + 0.01, 0.0, 1e-5)
    assert not is_settled([top(2), rival(5.0, written=20, right=3, clock=away)])
    assert is_settled([top(2), rival(5.0, written=20, right=3)])


def test_the_first_note_of_a_bar_is_known_where_bars_were_given():
    rows = rows_of(LINE, [])
    assert [k for k in range(len(LINE)) if begins_bar(rows, k)] == list(range(0, len(LINE), BAR_NOTES))
    assert not any(begins_bar(replace(rows, begins_bar=()), k) for k in range(len(LINE)))


def test_a_trail_goes_back_from_the_latest_note():
    rows = rows_of(LINE, as_written(LINE)[:3])
    trail = beams(rows, 24)[-1][0].trail
    assert isinstance(trail, Trail)
    assert trail.step.played == 2
    assert trail.before is not None
    assert trail.before.step.played == 1
