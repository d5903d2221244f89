"""The facts of a day."""

from game.coach.plan.day_facts import DayFacts, DayRow, DayRowState, UnseenLine
from game.coach.plan.plan_steps import StepKind
from game.message import verbatim

NOTHING = verbatim("")


def facts(*states):
    rows = tuple(
        DayRow(at=at, kind=StepKind.PASSAGE, title=NOTHING, quiet=NOTHING, minutes=4, state=state)
        for at, state in enumerate(states)
    )
    return DayFacts(
        day=1, first_day=False, minutes=20, rows=rows, aim=None, last_time=None, how_it_goes=(),
        unseen=UnseenLine(ready=True, planned=False, said=NOTHING),
    )  # fmt: skip


def test_the_corner_leads_to_the_row_that_stands_next_and_nowhere_once_all_is_done():
    assert facts(DayRowState.DONE, DayRowState.NOW, DayRowState.AHEAD).next_row.at == 1
    assert facts(DayRowState.DONE, DayRowState.SKIPPED).next_row is None
