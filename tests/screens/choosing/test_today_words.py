"""Today in words: each step is called by what is played, and says why in a few words."""

import msgspec

from game.coach.plan.plan_steps import StepKind
from game.screens.choosing.today_words import today_sheet
from tests.screens.table import Table


def placed(tmp_path):
    table = Table(tmp_path)
    table.settle(line_level=3)
    return table


def test_a_step_is_called_by_what_is_played_where_that_says_more_than_its_kind(tmp_path):
    table = placed(tmp_path)
    rows = {
        step.kind: row
        for step, row in zip(table.context.session.plan.progress.steps, today_sheet(table.context).rows, strict=True)
    }
    assert (rows[StepKind.WARM_UP].title, rows[StepKind.WARM_UP].below) == (
        "Warm up", "a few notes to begin with, no clock",
    )  # fmt: skip
    assert rows[StepKind.NEW_TUNE].title == "A new tune"
    assert rows[StepKind.NEW_TUNE].below.endswith(", pitch only")


def test_before_anything_is_played_it_says_how_it_goes_and_when_the_first_unseen_line_comes(tmp_path):
    sheet = today_sheet(Table(tmp_path).context)
    assert sheet.day == ("your first sitting",)
    assert sheet.aim == "Five notes met."
    assert [(row.title, row.minutes) for row in sheet.rows] == [
        ("Five notes", "2 min"), ("Ode to Joy in C", "6 min"), ("Heard whole", "2 min"),
    ]  # fmt: skip
    assert sheet.rows[0].below == "C, D, E, F and G: found without a clock"
    assert sheet.unseen is None
    assert "five notes" in sheet.consequence


def test_the_day_is_told_in_two_lengths(tmp_path):
    assert today_sheet(placed(tmp_path).context).day == ("Tuesday 24 November", "Tue 24 Nov")


def test_what_was_begun_tells_its_minutes_left(tmp_path):
    table = placed(tmp_path)
    plan = table.context.session.plan
    plan.finish_step(skipped=True)
    plan.begin_step()
    table.clock.advance(70)
    plan.leave_step()
    row = today_sheet(table.context).rows[1]
    assert (row.minutes, row.corner) == (f"{plan.step.minutes - 1} min left", "Go on")
    assert msgspec.json.decode(msgspec.json.encode(row))["title"] == row.title
