"""One aim a sitting, that can be reached: said at its start, answered at its end.

It is made of the plan and of the ladder: the next tempo that was not kept yet of the passage that is up today, or every
note of it found, or all of it in time for the first time, or its signing. On the first day it is five notes, when
nothing is known yet.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum

from game.coach.climb import fastest_kept_on
from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import PassageOpened
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.coach.record_update import record_on
from game.coach.records import CoachState, PassageRecord
from game.coach.stage_steps import rhythm_comes_first
from game.coach.stages import Stage
from game.coach.tempo_ladder import rungs_ahead
from game.message import Message, message

FIRST_NOTES = 5
"""The notes of a first day: as many as the first tune has."""


class AimKind(Enum):
    """What is aimed at."""

    NOTES_MET = "notes met"
    FOUND = "found"
    IN_TIME = "in time"
    CLEAN = "clean"
    HALF_SIGNED = "half signed"
    SIGNED = "signed"
    LINE_READ = "line read"


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingAim:
    """An aim. `passage` is the name of the bars it is for, as the coach knows them; `bpm` goes with clean and signed,
    `count` with notes met.
    """

    kind: AimKind
    passage: str | None = None
    bpm: int | None = None
    count: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class SittingSoFar:
    """What `day` came to besides the coach's records: pitches met for the first time, lines read at sight."""

    day: int
    notes_met: int = 0
    lines_read: int = 0


def aim_of_sitting(
    steps: Sequence[PlanStep],
    state: CoachState,
    *,
    day: int,
    notes_of: Callable[[str], int],
    numbers: CoachNumbers = NUMBERS,
) -> SittingAim:
    """The aim of a sitting on `day` with these steps ahead. `notes_of` tells how many notes with a home a passage has.

    Ask once, at the start, and keep it: what is played changes the ladder.
    """
    first_notes = any(step.kind is StepKind.FIVE_NOTES for step in steps)
    if first_notes or all(record.practised_day is None for record in state.records.values()):
        return SittingAim(kind=AimKind.NOTES_MET, count=FIRST_NOTES)
    for step in steps:
        if step.kind is StepKind.PASSAGE and step.passage is not None:
            aim = _aim_for(step.passage, state, day, notes_of(step.passage), numbers)
            if aim is not None:
                return aim
    if any(step.kind is StepKind.FIRST_SIGHT for step in steps):
        return SittingAim(kind=AimKind.LINE_READ)
    return SittingAim(kind=AimKind.NOTES_MET, count=1)


def _aim_for(name: str, state: CoachState, day: int, notes: int, numbers: CoachNumbers) -> SittingAim | None:
    """What can be reached of a passage today; None where it is played out, or nothing is left to reach."""
    record = state.records.get(name)
    if record is None:
        return SittingAim(kind=AimKind.FOUND, passage=name)
    then, decision = advance(state, PassageOpened(passage=record.facts, day=day), numbers)
    if decision.offer is not Offer.AGAIN or Mark.SIGNED_OFF in record.marks:
        return None
    if decision.stage in (Stage.LETTERS, Stage.PLACES) or rhythm_comes_first(record_on(record, day)):
        found = Mark.FOUND in record.marks
        return None if found else SittingAim(kind=AimKind.FOUND, passage=name)
    target, now = record.facts.target_bpm, decision.tempo_bpm if decision.stage is Stage.TIME else None
    # A first take comes once a day: it is aimed at where the target was kept, and not before.
    if now is not None and now == target and target in record.kept_bpms and not then.records[name].takes_today:
        kind = AimKind.SIGNED if record.sign_offs else AimKind.HALF_SIGNED
        return SittingAim(kind=kind, passage=name, bpm=target)
    if not record.kept_bpms and record.own_pace_bpm is None and Mark.IN_TIME not in record.marks:
        # Until they were played in time, their tempo is only guessed: no number that may be far from the first rung.
        return SittingAim(kind=AimKind.IN_TIME, passage=name)
    ahead = rungs_ahead(then, decision, notes=max(notes, 1), numbers=numbers)
    bpm = _next_to_keep(record, (now, *ahead[:2]), target)
    return None if bpm is None else SittingAim(kind=AimKind.CLEAN, passage=name, bpm=bpm)


def _next_to_keep(record: PassageRecord, tempi: Sequence[int | None], target: int | None) -> int | None:
    """The first of these tempi that was not kept, faster than all that were where there is such a one; none over the
    target, for it need not be reached.
    """
    most = target or max((bpm for bpm in tempi if bpm is not None), default=0)
    new = [bpm for bpm in tempi if bpm is not None and bpm not in record.kept_bpms and bpm <= most]
    return next((bpm for bpm in new if bpm > max(record.kept_bpms, default=0)), new[0] if new else None)


def is_reached(aim: SittingAim, state: CoachState, so_far: SittingSoFar) -> bool:
    """Whether the aim was reached, by what the coach knows now."""
    match aim.kind:
        case AimKind.NOTES_MET:
            return so_far.notes_met >= (aim.count or 1)
        case AimKind.LINE_READ:
            return so_far.lines_read > 0
        case _:
            record = state.records.get(aim.passage or "")
            return record is not None and _has_reached(aim, record, so_far.day)


_EARNED = {AimKind.FOUND: Mark.FOUND, AimKind.IN_TIME: Mark.IN_TIME, AimKind.SIGNED: Mark.SIGNED_OFF}


def _has_reached(aim: SittingAim, record: PassageRecord, day: int) -> bool:
    """Whether the bars of an aim came to it: a mark, half a signing, or a tempo kept."""
    if aim.kind in _EARNED:
        return _EARNED[aim.kind] in record.marks
    if aim.kind is AimKind.HALF_SIGNED:
        return any(half.day == day for half in record.sign_offs)
    return aim.bpm in record.kept_bpms or (fastest_kept_on(record.climb, day) or 0) >= (aim.bpm or 0)


def aim_said(aim: SittingAim, passage: Message | None = None) -> Message:
    """The aim in words, for the start. `passage` is the title of the bars, wherever the aim has such."""
    return message("aim.today", aim=_named(aim, passage))


def answer_said(aim: SittingAim, state: CoachState, so_far: SittingSoFar, passage: Message | None = None) -> Message:
    """The answer to the aim, for the end: reached, or how far it went."""
    if is_reached(aim, state, so_far):
        return message("aim.reached", aim=_named(aim, passage))
    far = _how_far(aim, state.records.get(aim.passage or ""), so_far)
    return message("aim.not_yet", aim=_named(aim, passage), far=far)


_SAID = {
    AimKind.NOTES_MET: "aim.notes_met",
    AimKind.FOUND: "aim.found",
    AimKind.IN_TIME: "aim.in_time",
    AimKind.CLEAN: "aim.clean",
    AimKind.SIGNED: "aim.signed",
    AimKind.HALF_SIGNED: "aim.half_signed",
    AimKind.LINE_READ: "aim.line_read",
}


def _named(aim: SittingAim, passage: Message | None) -> Message:
    told = {"passage": passage, "bpm": aim.bpm, "count": aim.count}
    return message(_SAID[aim.kind], **{name: value for name, value in told.items() if value is not None})


def _how_far(aim: SittingAim, record: PassageRecord | None, so_far: SittingSoFar) -> Message:
    """How far it went; no promise, and no blame."""
    if aim.kind is AimKind.NOTES_MET:
        return message("aim.far.notes_met", count=so_far.notes_met)
    if record is None or record.day < so_far.day or not record.takes_today:
        return message("aim.far.not_begun")
    if aim.kind is AimKind.FOUND and record.wrong_last:
        return message("aim.far.found", count=len(record.wrong_last))
    fastest = fastest_kept_on(record.climb, so_far.day)
    if fastest is not None:
        return message("aim.far.kept", bpm=fastest)
    return message("aim.far.on_the_way")
