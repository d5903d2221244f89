"""What is said of an assignment."""

from dataclasses import replace
from datetime import date

import pytest

from game.assignments.assignment import AssignedLines, AssignedTune
from game.assignments.set_against_done import DoneOfPart, SetAgainstDone, StageOfPart
from game.coach.stages import Stage
from game.screens.choosing.assignment_words import (
    due_in_words,
    left_in_words,
    lines_in_words,
    part_in_words,
    short_due_in_words,
    stage_in_words,
)

DUE = date(2026, 12, 4)
TUNE = AssignedTune(title="Ode to Joy", bars=(1, 4), stages=(Stage.PLACES,), target_bpm=72)
LINES = AssignedLines(level=1, a_day=2)


def standing(*, done=False, today=DUE, due=DUE):
    part = DoneOfPart(part=TUNE, stages=(StageOfPart(stage=Stage.PLACES),), done=done)
    return SetAgainstDone(parts=(part,), due=due.toordinal() if due else None, today=today.toordinal())


@pytest.mark.parametrize(
    ("today", "done", "said", "short"),
    [
        (date(2026, 12, 1), False, "due Friday 4 December", "by 4 Dec"),
        (date(2026, 12, 3), False, "due tomorrow", "due tomorrow"),
        (DUE, False, "due today", "due today"),
        (date(2026, 12, 6), False, "overdue since Friday 4 December", "overdue"),
        (date(2026, 12, 6), True, "all done", "by 4 Dec"),
    ],
)
def test_when_it_is_due_is_told_in_words(today, done, said, short):
    assert due_in_words(standing(done=done, today=today), DUE) == said
    assert short_due_in_words(standing(done=done, today=today), DUE) == short


def test_without_a_day_nothing_is_said_of_one():
    assert due_in_words(standing(due=None), None) == short_due_in_words(standing(due=None), None) == ""


def test_what_is_left_is_counted_unless_there_is_nothing_for_today():
    assert left_in_words(standing()) == "1 of 1 to do"
    read = DoneOfPart(part=LINES, stages=(StageOfPart(stage=None),), done=False, today=2, full_days=(4,), days_wanted=5)
    assert left_in_words(SetAgainstDone(parts=(read,), due=None, today=DUE.toordinal())) == "enough for today"
    assert lines_in_words(read) == "2 of 2 read today, all of them on 1 of 5 days"
    early = replace(read, days_so_far=3, days_wanted=38)
    assert lines_in_words(early) == "2 of 2 read today, days done: 1 of 3 so far, 38 in all"
    ahead = replace(early, full_days=(1, 2, 3, 4))
    assert lines_in_words(ahead) == "2 of 2 read today, all of them on 4 of 38 days"


def test_a_part_is_named_with_its_bars_and_its_stages_with_tempo_and_pages():
    assert part_in_words(TUNE) == "Ode to Joy, bars 1 to 4"
    assert stage_in_words(StageOfPart(stage=Stage.TIME), TUNE) == "time, to 72"
    half = StageOfPart(stage=Stage.PLACES, page_days=(4,), pages=3)
    assert stage_in_words(half, TUNE).endswith("(1 of 3 pages)")
    assert stage_in_words(StageOfPart(stage=None), LINES) == "as it comes, until in time"
