"""The counts of a take share their totals, and never say more than was played."""

from dataclasses import replace
from random import Random

import pytest

from game.coach.stages import Stage
from game.judging.letters import NamedNote
from game.judging.verdicts import EventKind, TakeEvent, Verdict
from game.practice.finished_take import FinishedNaming
from game.practice.take_counts import CleanRun, counts_of
from tests.practice.simulated_takes import LINE, Habits, any_habits, heard_by_coach, played_take
from tests.practice.test_finished_take import C, L, M, Q, U, W, finished
from tests.sampling import how_many

NOTES = len(LINE.notes)


@pytest.mark.parametrize("seed", range(how_many(200, by_default=20)))
def test_in_time_is_at_most_right_which_is_at_most_asked_and_the_coach_counts_the_same(seed):
    rng = Random(seed)
    take = played_take(rng, any_habits(rng, NOTES))
    counts, result = counts_of(take), heard_by_coach(take)
    assert 0 <= counts.in_time <= counts.right <= counts.asked <= NOTES
    assert (counts.asked, counts.right, counts.in_time) == (result.homes, result.clean, result.in_time)
    assert 0 <= counts.bars_kept <= counts.bars == 4
    assert (counts.bars_kept == 4) == take.summary.kept_going
    if counts.run is not None:
        assert 2 <= counts.run.notes <= counts.in_time
        inside = [one for one in take.judgement.verdicts if counts.run.first <= one.n <= counts.run.last]
        assert {one.verdict for one in inside} == {Verdict.CLEAN}


def test_a_whole_clean_take_is_one_run_and_all_its_bars():
    counts = counts_of(played_take(Random(1), Habits()))
    assert (counts.right, counts.in_time, counts.asked) == (NOTES, NOTES, NOTES)
    assert (counts.bars_kept, counts.bars) == (4, 4)
    assert counts.run == CleanRun(first=1, last=NOTES)


def test_a_stop_ends_the_run_and_costs_the_bar_it_stands_in():
    counts = counts_of(played_take(Random(1), Habits(stop_before=7)))
    assert counts.right == NOTES
    assert counts.run == CleanRun(first=7, last=NOTES)
    assert counts.bars_kept == 3


def test_who_leaves_has_kept_the_bars_read_to_their_end():
    counts = counts_of(played_take(Random(1), Habits(leaves_after=6)))
    assert counts.asked == 6
    assert counts.bars_kept == 1, "the sixth note is the second of bar 2"


def test_without_a_rhythm_time_and_bars_are_not_counted_and_late_notes_are_of_the_run():
    counts = counts_of(finished(C, L, C, W, M, U))
    assert (counts.right, counts.asked, counts.in_time, counts.bars_kept) == (3, 5, None, None)
    assert counts.run == CleanRun(first=1, last=3)
    assert counts_of(finished(C, L, C, W, M, U, stage=Stage.TIME)).run is None, "a late note is not in time"


def test_going_back_before_the_first_note_breaks_the_first_bar():
    take = played_take(Random(1), Habits())
    begun = replace(take.judgement, events=(TakeEvent(kind=EventKind.RESTART, n=None, time_ms=0.0),))
    assert counts_of(replace(take, judgement=begun)).bars_kept == 3


def test_a_naming_counts_names_alone():
    named = tuple(NamedNote(n=note.n, verdict=Verdict.CLEAN) for note in LINE.notes[:5])
    counts = counts_of(FinishedNaming(passage=LINE, named=named))
    assert (counts.asked, counts.right, counts.in_time) == (5, 5, None)
    assert counts.run == CleanRun(first=1, last=5)


def test_a_note_that_could_not_be_told_is_no_part_of_a_run_and_does_not_break_it():
    counts = counts_of(finished(C, C, Q, C, C, W))
    assert (counts.asked, counts.right) == (5, 4)
    assert counts.run == CleanRun(first=1, last=5, unsure=1)
    assert counts.run.notes == 4
    assert counts_of(finished(Q, C, C, Q, Q, Q)).run == CleanRun(first=2, last=3)
    assert counts_of(finished(Q, Q, Q, Q, Q, Q)).run is None
