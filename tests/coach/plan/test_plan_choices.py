"""Which music today."""

from dataclasses import replace

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_choices import new_tune, passage_under_way, signed_off_passage, tune_at_sight
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.todays_plan import plan_for
from game.text.catalogue import tell_all
from tests.coach.plan.situations import DONE, FORD, MILL, OLD, TUNES, kinds, one, situation

K = StepKind


def test_on_every_other_day_a_tune_never_met_stands_for_the_line_and_is_not_offered_twice():
    steps = plan_for(situation(day=100))
    assert one(steps, K.FIRST_SIGHT).tune == "heron"
    assert one(steps, K.NEW_TUNE).tune == "plain"
    assert one(plan_for(situation(day=101)), K.FIRST_SIGHT).tune is None


def test_what_is_far_too_hard_is_not_offered():
    assert K.NEW_TUNE not in kinds(plan_for(situation(unseen=TUNES[2:])))


def test_the_passage_is_the_one_that_has_come_farthest_of_those_played_lately():
    assert one(plan_for(situation()), K.PASSAGE).passage == "mill"
    forgotten = replace(MILL, last_day=50)
    assert one(plan_for(situation(passages=(FORD, forgotten))), K.PASSAGE).passage == "ford"
    played_out = replace(MILL, takes_today=NUMBERS.takes_a_day)
    assert one(plan_for(situation(passages=(FORD, played_out))), K.PASSAGE).passage == "ford"
    assert tell_all(one(plan_for(situation()), K.PASSAGE).reason) == "The Mill, bars 5–8: at 72 now, on the way to 96."


def test_it_ends_with_what_is_due_or_was_not_played_for_longest():
    assert plan_for(situation())[-1].passage == "oak"
    due = plan_for(situation(due_passages=("gate", "oak")))[-1]
    assert (due.passage, tell_all(due.reason)) == ("gate", "To end with, played whole: The Gate, before it slips away.")


def test_without_passages_and_tunes_there_is_nothing_to_choose():
    empty = situation(passages=(), unseen=(), day=100)
    assert passage_under_way(empty) is None
    assert tune_at_sight(empty) is None
    assert new_tune(empty) is None
    assert signed_off_passage(empty) is None


def test_a_signed_off_passage_is_not_under_way():
    assert passage_under_way(situation(passages=(DONE, OLD))) is None


def test_the_hardest_tune_within_the_level_is_met_at_sight_and_the_nearest_one_learned():
    now = situation(day=100, level=2)
    assert tune_at_sight(now).name == "heron"
    assert new_tune(now).name == "heron"
    assert new_tune(now, taken=TUNES[0]).name == "plain"
    assert tune_at_sight(situation(day=100, level=0)) is None


def test_a_tune_a_little_over_the_level_may_be_learned_but_not_met_at_sight():
    just_over = replace(TUNES[2], difficulty=2 + NUMBERS.tune_over_level)
    now = situation(day=100, level=2, unseen=(just_over,))
    assert tune_at_sight(now) is None
    assert new_tune(now) == just_over


def test_of_passages_as_far_the_rested_one_is_taken():
    tired = replace(MILL, name="tired", takes_today=2)
    assert passage_under_way(situation(passages=(tired, MILL))).name == "mill"
    assert passage_under_way(situation(passages=(tired, FORD))).name == "tired"
