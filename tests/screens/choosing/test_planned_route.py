"""The music of the plan's steps, and what follows it."""

import msgspec
import pygame
import pytest

from game.coach.plan.plan_onward import Onward
from game.coach.plan.plan_steps import StepKind
from game.coach.stages import Stage
from game.practice.take_request import request_for
from game.practice_log.rows.passage_key import passage_key
from game.screens.routes import ToPage, ToToday
from game.text.catalogue import tell_all
from game.tunes.library.library import open_entry, shelf
from tests.screens.table import Table


@pytest.fixture
def today(tmp_path):
    """A player who was placed above the beginners: those begin with five notes."""
    table = Table(tmp_path)
    table.context.change_settings(msgspec.structs.replace(table.context.settings, line_level=3))
    table.key(pygame.K_t)
    return table


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


def test_enter_begins_a_step_and_its_music_goes_on_until_its_minutes_are_over(today):
    today.key(pygame.K_RETURN)
    assert today.screen.request.planned
    assert today.screen.request.stage is Stage.PLACES
    first = today.screen.request.passage
    read(today)
    today.key(pygame.K_RETURN)
    assert today.screen_name == "PlacesPage"
    assert today.screen.request.passage != first
    today.wait(61.0, frame_s=0.5)
    read(today)
    today.key(pygame.K_RETURN)
    assert today.screen_name == "TodayScreen"
    assert today.context.session.plan.step.kind is StepKind.FIRST_SIGHT


def test_first_sight_is_once_through_and_covered_until_it_begins(today):
    today.key(pygame.K_BACKSPACE)
    today.key(pygame.K_RETURN)
    assert today.screen.request.stage is Stage.SIGHT
    assert today.screen.view.covered


def shelf_tune(table, name, practised=1, each_s=0.3):
    """Practise the first passages of a tune of the shelf, as found by ear and eye: every note at its home."""
    entry = next(one for one in shelf() if one.name == name)
    table.context.session.log.facts.open_tune(name)
    request = request_for(open_entry(entry), table.context.settings.neck_map())
    for at in range(practised):
        table.go(ToPage(request.moved(at), chosen=True))
        if practised:
            read(table, each_s)
    return request


def plan_on(table, day):
    """The plan as it stands on another day."""
    table.context.session.log.flush()
    table.day = day
    table.context.session.plan.replan()
    table.go(ToToday())
    return table.context.session.plan


def go_to(table, kind):
    """Skip up to a step of that kind."""
    plan = table.context.session.plan
    while plan.step.kind is not kind:
        table.key(pygame.K_BACKSPACE)
    table.key(pygame.K_RETURN)


def advised(table):
    """The last thing that the result says, in English, and the keys of all of it."""
    then = table.screen._then
    return then.onward, tell_all(then.reason)


def names():
    return [one.name for one in shelf()]


def test_what_a_result_says_of_the_same_bars_is_what_enter_does(today):
    shelf_tune(today, names()[0])
    plan_on(today, today.day + 1)
    go_to(today, StepKind.PASSAGE)
    passage, decision = today.screen.request.passage, None
    read_anything(today)
    onward, said = advised(today)
    decision = today.screen.decision
    assert onward is Onward.AS_ADVISED
    assert said == tell_all(decision.reason)
    today.wait(600.0, frame_s=5.0)
    today.key(pygame.K_RETURN)
    request = today.screen.request
    assert (request.passage, request.stage, request.tempo_bpm) == (passage, decision.stage, decision.tempo_bpm)
    assert request.planned


def read_anything(table):
    """Play whatever page is open, through to its result."""
    page = table.screen
    if type(page).__name__ == "MetronomePage":
        table.play_in_time()
    else:
        for note in page.take.expected:
            table.play(note.sounding)
            table.wait(0.5, frame_s=0.1)
    table.wait(4.0, frame_s=0.1)
    assert table.screen_name == "ResultScreen"


def test_when_the_minutes_are_over_the_result_promises_no_tempo_and_enter_leads_to_the_plan(today):
    shelf_tune(today, names()[0])
    plan_on(today, today.day + 1)
    go_to(today, StepKind.PASSAGE)
    today.wait(60.0 * 20, frame_s=5.0)
    read_anything(today)
    onward, said = advised(today)
    assert onward is Onward.STEP_OVER
    assert said.endswith("That is all of this step: back to the plan.")
    today.key(pygame.K_RETURN)
    assert today.screen_name == "TodayScreen"


def test_a_passage_played_out_for_today_gives_way_to_the_next_one_begun(today):
    first, second = names()[:2]
    shelf_tune(today, first)
    today.day += 1
    shelf_tune(today, second)
    plan_on(today, today.day + 1)
    today.settle(plan_minutes=60)
    go_to(today, StepKind.PASSAGE)
    latest = passage_key(today.screen.request.passage)
    following = today.context.session.plan.next_after(latest)
    for _ in range(8):
        read_anything(today)
        onward, said = advised(today)
        today.key(pygame.K_RETURN)
        if onward is not Onward.AS_ADVISED:
            break
    assert onward is Onward.OTHER_PASSAGE
    assert today.screen.request.planned
    assert passage_key(today.screen.request.passage) == following.name != latest
    assert today.screen.request.passage.score.title in said


def test_the_new_tune_stays_with_the_places_whatever_the_coach_would_do_next(today):
    go_to(today, StepKind.NEW_TUNE)
    first = today.screen.request.passage
    read(today, 0.5)
    onward, said = advised(today)
    assert onward is Onward.NEXT_BARS
    assert "rhythm" not in said
    today.key(pygame.K_RETURN)
    assert today.screen.request.stage is Stage.PLACES
    assert today.screen.request.passage != first
    assert tell_all(today.screen.request.reason)


def test_a_line_of_the_warm_up_leads_to_another_and_says_so(today):
    today.key(pygame.K_RETURN)
    first = today.screen.request.passage
    read(today)
    assert advised(today)[0] is Onward.OTHER_LINE
    assert advised(today)[1].endswith("On with another line.")
    today.key(pygame.K_RETURN)
    assert today.screen.request.passage != first


def test_of_four_half_begun_tunes_the_plan_goes_on_with_the_last_and_begins_no_other(today):
    for name in names()[:4]:
        shelf_tune(today, name)
        today.day += 1
    plan = plan_on(today, today.day + 21)
    step = next(step for step in plan.progress.steps if step.kind is StepKind.PASSAGE)
    assert plan.find_passage(step.passage).entry.name == names()[3]
    assert StepKind.NEW_TUNE not in {step.kind for step in plan.progress.steps}


def test_to_open_a_tune_or_to_break_off_after_three_notes_is_not_to_begin_it(today):
    opened, left, played = names()[:3]
    shelf_tune(today, played)
    today.day += 1
    request = shelf_tune(today, opened, practised=0)
    today.context.session.coach.open_passage(request.passage)
    entry = next(one for one in shelf() if one.name == left)
    today.context.session.log.facts.open_tune(left)
    today.go(ToPage(request_for(open_entry(entry), today.context.settings.neck_map()), chosen=True))
    for note in today.screen.take.expected[:3]:
        today.play(note.sounding)
    today.key(pygame.K_ESCAPE)
    plan = plan_on(today, today.day + 1)
    step = next(step for step in plan.progress.steps if step.kind is StepKind.PASSAGE)
    assert plan.find_passage(step.passage).entry.name == played


def test_in_five_minutes_a_passage_is_reached_by_one_who_reads_slowly(today):
    shelf_tune(today, names()[0])
    today.settle(plan_minutes=5)
    plan = plan_on(today, today.day + 1)
    met = []
    for _ in range(12):
        step = plan.step
        if step is None:
            break
        met.append(step.kind)
        if step.kind is StepKind.PASSAGE:
            break
        today.key(pygame.K_RETURN)
        while today.screen_name != "TodayScreen":
            read(today, 4.7)
            today.key(pygame.K_RETURN)
    assert met[-1] is StepKind.PASSAGE
