"""The aim of a sitting: one, reachable, said at its start, answered at its end."""

from game.coach.marks import Mark
from game.coach.plan.day_facts import Aim, AimAnswer, AimKind
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.coach.plan.row_words import RowFacts
from game.coach.records import PassageRecord
from game.coach.stages import Pulse, Stage
from game.message import message, verbatim

_MUSIC = (StepKind.PASSAGE, StepKind.SIGNED_OFF, StepKind.COURSE, StepKind.NEW_TUNE)


def aim_of(steps: tuple[PlanStep, ...], facts: dict[int, RowFacts]) -> Aim | None:
    """The aim of the steps ahead; `facts` go by their index. None where there is nothing to aim at."""
    for step in steps:
        if step.kind is StepKind.FIVE_NOTES:
            count = len(step.five_notes)
            return Aim(kind=AimKind.MEET, said=message("aim.meet", count=count), count=count)
    for at, step in enumerate(steps):
        if step.kind in _MUSIC and not step.whole:
            return _of_music(step, facts.get(at, RowFacts()))
    if any(step.kind is StepKind.FIRST_SIGHT for step in steps):
        return Aim(kind=AimKind.READ, said=message("aim.read"))
    return None


def _of_music(step: PlanStep, facts: RowFacts) -> Aim:
    title, standing = facts.title or verbatim(""), facts.standing
    at_target = standing.target_bpm if standing is not None else None
    if standing is not None and standing.half_day is not None and at_target:
        said = message("aim.sign", passage=title, bpm=at_target)
        return Aim(kind=AimKind.SIGN, said=said, passage=step.passage, bpm=at_target)
    if step.stage is Stage.RHYTHM:
        return Aim(kind=AimKind.RHYTHM, said=message("aim.rhythm", passage=title), passage=step.passage)
    if step.stage is Stage.TIME and facts.pulse is Pulse.METRONOME and facts.rungs:
        said = message("aim.keep", passage=title, bpm=facts.rungs[0])
        return Aim(kind=AimKind.KEEP, said=said, passage=step.passage, bpm=facts.rungs[0])
    if step.stage is Stage.TIME:
        return Aim(kind=AimKind.IN_TIME, said=message("aim.in_time", passage=title), passage=step.passage)
    return Aim(kind=AimKind.FIND, said=message("aim.find", passage=title), passage=step.passage)


def aim_answer(aim: Aim, record: PassageRecord | None, *, met: int, read: bool) -> AimAnswer:
    """What became of the aim. `record` is that of its passage, `met` counts the pitches met so far, `read` tells
    whether an unseen line was read today.
    """
    if _is_reached(aim, record, met=met, read=read):
        return AimAnswer(reached=True, said=message(f"aim.reached.{aim.kind.value}", bpm=aim.bpm or 0, count=met))
    if aim.kind is AimKind.KEEP and record is not None and record.last_bpm:
        return AimAnswer(reached=False, said=message("aim.open.keep", at=record.last_bpm, bpm=aim.bpm or 0))
    if aim.kind is AimKind.MEET:
        return AimAnswer(reached=False, said=message("aim.open.meet", count=met))
    return AimAnswer(reached=False, said=message("aim.open"))


def _is_reached(aim: Aim, record: PassageRecord | None, *, met: int, read: bool) -> bool:
    if aim.kind is AimKind.MEET:
        return met >= aim.count
    if aim.kind is AimKind.READ:
        return read
    if record is None:
        return False
    reached = {
        AimKind.FIND: Mark.FOUND in record.marks,
        AimKind.RHYTHM: record.stage is Stage.TIME,
        AimKind.IN_TIME: Mark.IN_TIME in record.marks,
        AimKind.KEEP: any(bpm >= (aim.bpm or 0) for bpm in record.kept_bpms),
        AimKind.SIGN: Mark.SIGNED_OFF in record.marks,
    }
    return reached[aim.kind]
