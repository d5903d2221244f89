"""Today in words: each step is called by what is played, and says why in a few words."""

import pytest

from game.coach.plan.plan_steps import PlanStep, StepKind
from game.message import message, verbatim
from game.screens.choosing.today_words import NOTES_FOR_UNSEEN, step_title, today_sheet
from tests.screens.table import Table

BARS = message("passage.bars_of_tune", title="Ode to Joy", first="9", last="12")


def step(kind, key, **values):
    return PlanStep(kind=kind, minutes=4, reason=(message(key, **values),))


@pytest.mark.parametrize(
    ("planned", "called"),
    [
        (step(StepKind.PASSAGE, "plan.passage_found", passage=BARS), ("Ode to Joy", ", bars 9–12")),
        (step(StepKind.SIGNED_OFF, "plan.signed_off_due", passage=verbatim("A tune")), ("A tune", "")),
        (step(StepKind.SIGNED_OFF, "plan.signed_off", passage=BARS), ("Played whole", "")),
        (step(StepKind.NEW_TUNE, "plan.new_tune", title="Clementine"), ("A new tune", "")),
        (step(StepKind.REST, "plan.rest"), ("Rest", "")),
    ],
)
def test_a_step_is_called_by_what_is_played_where_that_says_more_than_its_kind(planned, called):
    assert step_title(planned) == called


def test_a_reason_that_has_no_short_form_is_told_as_it_is(tmp_path, monkeypatch):
    table = Table(tmp_path)
    steps = (step(StepKind.PASSAGE, "coach.fell_apart_slower", bpm=60),)
    monkeypatch.setattr("game.player.player_plan.plan_for", lambda _: steps)
    assert "60" in today_sheet(table.context).rows[0].below


def test_before_anything_is_played_it_says_how_it_goes_and_when_the_first_unseen_line_comes(tmp_path):
    sheet = today_sheet(Table(tmp_path).context)
    assert sheet.day == ("your first sitting",)
    assert sheet.unseen is None
    assert NOTES_FOR_UNSEEN == 7
    assert "seven notes" in sheet.consequence


def test_the_day_is_told_in_two_lengths(tmp_path):
    table = Table(tmp_path)
    table.open("F4 q, G4 q")
    table.play_through()
    assert today_sheet(table.context).day == ("Tuesday 24 November", "Tue 24 Nov")
