"""Today in words: the plan, the aim, the last time, and what is known of the notes."""

from typing import Final

import msgspec

from game.coach.plan.plan_steps import PlanStep, StepKind
from game.message import Message
from game.player.player_plan import PlayerPlan
from game.screens.choosing.today_sheet import RowState, TodayRow, TodaySheet
from game.screens.context import ScreenContext
from game.screens.ink_drawing import InkSheet
from game.screens.ink_sheet import ink_sheet
from game.text.catalogue import say, tell, tell_all

NOTES_FOR_UNSEEN: Final = 7
"""From so many notes met on, an unseen line lies on the sheet. Ours: fewer make no line worth reading."""

_TITLED_BY: Final = {
    "plan.next_bars": "passage",
    "plan.sign_off_due": "passage",
    "plan.passage_at_target": "passage",
    "plan.passage_on_the_way": "passage",
    "plan.passage_found": "passage",
    "plan.passage_left_off": "passage",
    "plan.signed_off_due": "passage",
}
"""Reasons whose step is called by what is played: the row says the rest."""

_BELOW: Final = (
    *_TITLED_BY,
    "plan.warm_up_due",
    "plan.warm_up_due_and_more",
    "plan.warm_up_slow",
    "plan.warm_up_new",
    "plan.line_at_sight",
    "plan.tune_at_sight",
    "plan.slow_note",
    "plan.slow_notes",
    "plan.notes_hardly_met",
    "plan.new_tune",
    "plan.signed_off",
    "plan.rest",
)


def today_sheet(context: ScreenContext) -> TodaySheet:
    """All that Today shows now. What is known must be made first: never to be asked for during a take."""
    plan, today = context.session.plan, context.session.today()
    rows, standing = _rows(plan)
    ink = ink_sheet(context)
    sheet = TodaySheet(
        day=(say("today.day", day=today), say("today.short_day", day=today)),
        minutes=say("today.minutes", minutes=context.settings.plan_minutes),
        rows=rows,
        standing=standing,
        plan_note="" if plan.complete else say("today.last_weeks"),
        ink=ink,
        unseen=_unseen(ink),
    )
    return sheet if context.session.notes.mastery.items else _first(sheet)


def _first(sheet: TodaySheet) -> TodaySheet:
    """Today for one who has not played yet: how it goes."""
    return msgspec.structs.replace(
        sheet,
        day=(say("today.first_sitting"),),
        remark_title=say("today.how_it_goes"),
        remark=(say("today.how_ink_comes"), say("today.how_tempo_comes")),
        consequence=say("today.how_unseen_comes", notes=NOTES_FOR_UNSEEN),
    )


def _unseen(ink: InkSheet) -> tuple[str, str] | None:
    met = sum(place.letters != "" for place in ink.places)
    return (say("today.unseen"), say("today.unseen_below")) if met >= NOTES_FOR_UNSEEN else None


def _rows(plan: PlayerPlan) -> tuple[tuple[TodayRow, ...], int]:
    """The rows, and which of them stands next."""
    progress, standing = plan.progress, plan.step
    rows = [
        _row(step, *_standing(plan, index, step.minutes))
        for index, step in enumerate(progress.steps)
        if index != progress.at or standing is None
    ]
    if standing is not None:
        rows.insert(progress.at, _row(standing, *_standing(plan, progress.at, standing.minutes)))
    return tuple(rows), progress.at if standing is not None else len(rows)


def _standing(plan: PlayerPlan, index: int, minutes: int) -> tuple[RowState, str]:
    """How a step stands, and its minutes: planned, left or spent."""
    progress, left = plan.progress, plan.minutes_left
    if index == progress.at and left is not None:
        return RowState.BEGUN, say("today.minutes_left", minutes=left)
    spent = progress.practised[index] if index < progress.at else 0.0
    if spent is None:
        return RowState.SKIPPED, say("today.step_minutes", minutes=minutes)
    if index < progress.at:
        return RowState.DONE, say("today.step_minutes", minutes=max(1, round(spent)))
    return RowState.AHEAD, say("today.step_minutes", minutes=minutes)


def _row(step: PlanStep, state: RowState, minutes: str) -> TodayRow:
    title, bars = step_title(step)
    rests = step.kind is StepKind.REST
    begins = "today.rest_begin" if rests else "today.begin"
    goes_on = "today.rested" if rests else "today.go_on"
    corner = say(goes_on if state is RowState.BEGUN else begins)
    return TodayRow(
        title=title,
        bars=bars,
        below=_below(step),
        minutes=minutes,
        corner=corner,
        advice=say("care.hands") if rests else "",
        state=state,
    )


def step_title(step: PlanStep) -> tuple[str, str]:
    """What a step is called, and its bars: by what is played, where that says more than its kind."""
    reason = step.reason[0] if step.reason else None
    titled = dict(reason.values).get(_TITLED_BY.get(reason.key, "")) if reason is not None else None
    if titled is None:
        return say(f"today.{step.kind.value}"), ""
    if isinstance(titled, Message) and titled.key == "passage.bars_of_tune":
        bars = dict(titled.values)
        return str(bars["title"]), say("today.bars", first=bars["first"], last=bars["last"])
    return tell(titled) if isinstance(titled, Message) else str(titled), ""


def _below(step: PlanStep) -> str:
    """A few words on why."""
    reason = step.reason[0] if step.reason else None
    if reason is None or reason.key not in _BELOW:
        return tell_all(step.reason)
    return say(f"today.row.{reason.key.removeprefix('plan.')}", **dict(reason.values))
