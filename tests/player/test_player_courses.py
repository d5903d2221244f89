"""A course asks its bars day by day, time through by time through."""

import pygame

from game.coach.plan.course import Course, CourseBars
from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.screens.routes import ToPlanned
from game.tunes.library.library import add
from tests.screens.table import Table


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
