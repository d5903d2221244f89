"""Today's plan is made from what the log knows."""

from dataclasses import replace

import pygame

from game.coach.plan.plan_steps import StepKind
from game.music.order_choices import read_next_way
from game.music.passage import passages_of
from game.music.score import Score
from game.music.written import written_out
from game.practice_log.rows.passage_key import passage_key
from game.screens.routes import ToToday
from game.tunes.library.library import add, keep_order, open_entry
from tests.screens.table import Table


def read(table, seconds=0.3):
    """Play the page that is open from its first note to its last."""
    page = table.screen
    if getattr(page, "covered", False):
        table.key(pygame.K_SPACE)
    for note in page.take.expected:
        table.play(note.sounding)
        table.wait(seconds, frame_s=0.1)
    table.wait(3.0, frame_s=0.1)
    assert table.screen_name == "ResultScreen"


def test_what_was_practised_is_in_the_plan_of_the_next_day(tmp_path):
    table = Table(tmp_path)
    table.key(pygame.K_RETURN)
    read(table)
    table.context.session.log.flush()
    table.day += 1
    table.context.session.plan.replan()
    table.go(ToToday())
    kinds = [step.kind for step in table.context.session.plan.progress.steps]
    assert StepKind.PASSAGE in kinds
    step = next(step for step in table.context.session.plan.progress.steps if step.kind is StepKind.PASSAGE)
    assert table.context.session.plan.find_passage(step.passage).entry.title == "Au clair de la lune"


def test_while_a_long_log_is_gone_through_the_plan_says_that_it_goes_by_the_last_weeks(tmp_path, monkeypatch):
    table = Table(tmp_path)
    for _ in range(2):
        table.open("F4 h, G4 h", "A4 w")
        for note in table.screen.take.expected:
            table.play(note.sounding)
        table.wait(1.5)
    table.context.session.log.flush()
    monkeypatch.setattr("game.player.log_projection.AT_ONCE", 1)
    later = Table(tmp_path)
    later.go(ToToday())
    planning = later.context.session.plan
    assert not planning.complete
    for_now = planning.progress
    later.wait(0.1)
    for known in (later.context.session.coach.projection, later.context.session.notes.projection):
        known.wait(60)
    assert planning.complete
    assert planning.progress is not for_now
    assert planning.progress is planning.progress


def test_the_passages_of_a_tune_whose_order_was_changed_are_those_of_the_new_order(tmp_path):
    """The plan knows them by what stands in them."""
    table = Table(tmp_path)
    file = tmp_path / "weir.abc"
    file.write_text("X:1\nT:Weir\nM:4/4\nL:1/4\nK:C\nCDEF|[1 GABc|[2 cBAG|EDCC|\n")
    entry = add(file)
    table.context.session.log.facts.open_tune(entry.name)
    plan = table.context.session.plan
    before, after = (passage_key(one) for one in (first_passage(entry), first_passage(other_order(entry))))
    assert plan.find_passage(before) is not None
    changed = keep_order(entry, other_order(entry))
    plan.play_in_other_order(entry.name)
    assert plan.find_passage(before) is None
    assert plan.find_passage(after).entry == changed


def other_order(entry):
    score = open_entry(entry)
    return replace(score, bars=read_next_way(score.bars))


def first_passage(tune):
    return passages_of(written_out(tune if isinstance(tune, Score) else open_entry(tune)))[0]


def test_the_time_of_a_step_stands_still_while_it_is_left(tmp_path):
    table = Table(tmp_path)
    plan = table.context.session.plan
    assert plan.minutes_left is None
    table.settle(plan_minutes=60)
    plan.replan()
    plan.finish_step()
    minutes = plan.step.minutes
    plan.begin_step()
    table.clock.advance(90)
    assert plan.minutes_left == minutes - 1
    plan.leave_step()
    table.clock.advance(3600)
    assert plan.minutes_left == minutes - 1
    assert not plan.time_left
    plan.begin_step()
    assert plan.time_left
    table.clock.advance(30)
    plan.finish_step()
    assert plan.progress.practised[-1] == 2.0


def test_a_plan_that_lay_open_overnight_is_another_one_the_next_day(tmp_path):
    table = Table(tmp_path)
    plan = table.context.session.plan
    plan.finish_step(skipped=True)
    plan.begin_step()
    table.clock.advance(60)
    table.day += 1
    assert plan.progress.at == 1, "not in the middle of a step"
    plan.leave_step()
    assert plan.progress.at == 0
    assert plan.minutes_left is None


def test_another_step_than_the_next_is_begun_by_choice_and_what_was_spent_is_not_lost(tmp_path):
    table = Table(tmp_path)
    table.settle(line_level=3)
    plan = table.context.session.plan
    plan.finish_step(skipped=True)
    plan.begin_step()
    table.clock.advance(120)
    wanted = plan.progress.steps[3]
    plan.choose(3)
    assert plan.step.kind is wanted.kind
    assert plan.progress.spent == 2.0
    assert plan.minutes_left is None
