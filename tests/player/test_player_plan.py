"""Today's plan is made from what the log knows."""

from dataclasses import replace

import pygame
import pytest

from game.coach.plan.course import Course, CourseBars
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.programme import Programme
from game.coach.stages import Stage
from game.music.order_choices import read_next_way
from game.music.passage import passages_of
from game.music.score import Score
from game.music.written import written_out
from game.player.player_plan import comparable_level
from game.practice_log.rows.passage_key import passage_key
from game.screens.routes import ToPlanned, ToToday
from game.tunes.library.library import add, keep_order, open_entry, shelf
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


@pytest.mark.parametrize(("difficulty", "low", "high"), [(0.5, 0.5, 1), (1.12, 0.9, 1.2), (2.0, 3.5, 4.5), (5, 8, 9)])
def test_a_tune_is_compared_with_the_lines_of_a_level(difficulty, low, high):
    assert low <= comparable_level(difficulty) <= high


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


def test_the_bars_of_a_course_come_in_its_order_and_what_they_came_to_is_kept(tmp_path):
    """One time through by pitch alone, then the rhythm: whatever the coach would ask of these bars."""
    table = Table(tmp_path / "player")
    table.settle(line_level=3)
    file = tmp_path / "solos.abc"
    file.write_text("X:1\nT:Solo\nM:4/4\nL:1/4\nK:F\nFGAB|cBAG|FAcA|F4|\n")
    entry, facts = add(file), table.context.session.log.facts
    facts.keep_course(Course(title="Solos", tunes=(entry.name, "gone-from-the-shelf"), bars_a_day=4))
    plan = table.context.session.plan
    for stage, left in ((Stage.PLACES, Stage.RHYTHM), (Stage.RHYTHM, Stage.TIME)):
        plan.replan()
        index = [step.kind for step in plan.progress.steps].index(StepKind.COURSE)
        plan.choose(index)
        assert plan.step.stage is stage
        table.go(ToPlanned())
        assert (table.screen.request.stage, table.screen.request.planned) == (stage, True)
        if stage is Stage.PLACES:
            table.play_through(each_s=0.5)
        else:
            played_bars(table, plan.step.passage)
        plan.finish_step()
        (standing,) = plan.course_standings()
        assert (standing.stage, standing.done) == (left, 0)
        assert standing.today == (), "four bars are a day's share"
        table.context.session.log.flush()
        table.day += 1
    assert (standing.before.passages, standing.before.notes) == (1, 13)


def played_bars(table, passage):
    """The rhythm of it was played, on another computer."""
    facts, day = table.context.session.log.facts, table.context.session.notes.day
    facts.play_course_bars("Solos", CourseBars(passage=passage, round=2, wrong=1, notes=13, seconds=9.0, day=day))


def test_after_the_first_bars_of_a_course_come_the_next_of_today_and_then_the_step_is_over(tmp_path):
    table = Table(tmp_path / "player")
    table.settle(line_level=3)
    file = tmp_path / "solos.abc"
    file.write_text("X:1\nT:Solo\nM:4/4\nL:1/4\nK:F\nFGAB|cBAG|FAcA|F4|\nGABc|dcBA|GBdB|G4|\nABcd|edcB|AceA|F4|\n")
    entry = add(file)
    table.context.session.log.facts.keep_course(Course(title="Solos", tunes=(entry.name,), bars_a_day=8))
    plan = table.context.session.plan
    plan.choose([step.kind for step in plan.progress.steps].index(StepKind.COURSE))
    table.go(ToPlanned())
    first = table.screen.request.passage
    table.play_through(each_s=0.3)
    table.key(pygame.K_RETURN)
    assert table.screen.request.passage.bar_numbers[0] == "5" != first.bar_numbers[0]
    assert table.screen.request.stage is Stage.PLACES
    table.play_through(each_s=0.3)
    assert not plan.course_goes_on
    table.key(pygame.K_RETURN)
    assert table.screen_name == "TodayScreen"


def test_a_programme_tells_how_many_pages_wait(tmp_path):
    table = Table(tmp_path)
    plan, facts = table.context.session.plan, table.context.session.log.facts
    assert plan.programme() is None
    names = tuple(entry.name for entry in shelf()[:3])
    facts.pick_programme(Programme(tunes=names))
    standing = plan.programme()
    assert [tune.tune for tune in standing.tunes] == list(names)
    assert standing.pages_left == sum(len(plan.passages.of(entry)) for entry in shelf()[:3])
    assert not standing.ready
