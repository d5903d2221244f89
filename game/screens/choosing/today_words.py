"""Today in words: the plan, the aim, the last time, and what is known of the notes."""

from typing import TypedDict

from game.assignments.set_against_done import SetAgainstDone
from game.coach.plan.day_facts import DayFacts, DayRow, DayRowState
from game.coach.plan.plan_steps import StepKind
from game.message import Message
from game.player.player_assignments import OpenedAssignment
from game.screens.choosing.assignment_words import due_in_words, left_in_words, short_due_in_words
from game.screens.choosing.today_sheet import RowState, TodayRow, TodaySheet
from game.screens.context import ScreenContext
from game.screens.ink_sheet import ink_sheet
from game.text.catalogue import say, tell

_STATES = {DayRowState.DONE: RowState.DONE, DayRowState.SKIPPED: RowState.SKIPPED}


def today_sheet(context: ScreenContext) -> TodaySheet:
    """All that Today shows now. What is known must be made first: never to be asked for during a take."""
    session = context.session
    facts, today = session.day_facts.facts(), session.today()
    aim = facts.aim
    rows = (*map(_row, facts.rows), *(_assigned_row(*one) for one in session.assignments.under_way))
    standing = next((at for at, row in enumerate(facts.rows) if row.state is DayRowState.NOW), len(facts.rows))
    day = (say("today.day", day=today), say("today.short_day", day=today))
    return TodaySheet(
        day=(say("today.first_sitting"),) if facts.first_day else day,
        minutes=say("today.minutes", minutes=facts.minutes),
        aim=tell(aim) if aim else "",
        rows=rows,
        standing=standing,
        plan_note="" if session.plan.complete else say("today.last_weeks"),
        ink=ink_sheet(context),
        unseen=(say("today.unseen"), tell(facts.unseen.said)) if facts.unseen.ready else None,
        next_map=facts.fluent is not None,
        **_remark(facts),
    )


class _Remark(TypedDict):
    """What stands at the foot of Today."""

    remark_title: str
    remark: tuple[str, ...]
    consequence: str


def _remark(facts: DayFacts) -> _Remark:
    """That a map is fluent, before anything else; how it goes, on a first day; the last time."""
    if facts.fluent is not None:
        return _Remark(
            remark_title=say("today.map_is_fluent", map=facts.fluent.map_name),
            remark=(tell(facts.fluent.reason),),
            consequence=say("today.next_map_below"),
        )
    last = facts.last_time
    return _Remark(
        remark_title=say("today.how_it_goes") if facts.how_it_goes else tell(last.heading) if last else "",
        remark=tuple(map(tell, facts.how_it_goes or ((last.fact,) if last else ()))),
        consequence=_consequence(facts),
    )


def _consequence(facts: DayFacts) -> str:
    if facts.first_day:
        return "" if facts.unseen.ready else tell(facts.unseen.said)
    last = facts.last_time
    return tell(last.consequence) if last and last.consequence else ""


def _row(row: DayRow) -> TodayRow:
    title, bars = titled(row.title)
    rests, begun = row.kind is StepKind.REST, row.left_s is not None
    begins, goes_on = ("today.rest_begin", "today.rested") if rests else ("today.begin", "today.go_on")
    minutes = max(1, row.minutes)
    left = max(1, -int(-(row.left_s or 0.0) // 60))
    return TodayRow(
        title=title,
        bars=bars,
        below=tell(row.quiet),
        shorter=tuple(map(tell, row.shorter)),
        minutes=say("today.minutes_left", minutes=left) if begun else say("today.step_minutes", minutes=minutes),
        corner=say(goes_on if begun else begins),
        advice=say("care.hands") if rests else "",
        state=_STATES.get(row.state, RowState.BEGUN if begun else RowState.AHEAD),
    )


def _assigned_row(opened: OpenedAssignment, done: SetAgainstDone) -> TodayRow:
    """An assignment: what is left of it, and until when."""
    facts = (left_in_words(done), due_in_words(done, opened.assignment.due))
    return TodayRow(
        title=opened.assignment.title,
        below=say("assignment.part", facts=tuple(filter(None, facts))),
        minutes=short_due_in_words(done, opened.assignment.due),
        corner=say("assignment.open"),
        assignment=opened.id,
        late=done.overdue,
    )


def titled(title: Message) -> tuple[str, str]:
    """A title, and its bars where it names some."""
    if title.key != "passage.bars_of_tune":
        return tell(title), ""
    bars = dict(title.values)
    return str(bars["title"]), say("today.bars", first=bars["first"], last=bars["last"])
