"""What is said of an assignment: each part and what is done of it, when it is due, and what is left."""

from datetime import date

from game.assignments.assignment import AssignedLines
from game.assignments.set_against_done import DoneOfPart, Part, SetAgainstDone, StageOfPart
from game.coach.stages import Stage
from game.lines.levels import level_of
from game.text.catalogue import say


def part_in_words(part: Part) -> str:
    """What is set: the tune and its bars, or the lines of which level."""
    if isinstance(part, AssignedLines):
        return say("assignment.lines", level=level_of(part.level).told, count=part.a_day)
    words = [part.title or part.file_name]
    if part.bars:
        words.append(say("assignment.bars", first=part.bars[0], last=part.bars[1]))
    return say("assignment.part", facts=tuple(words))


def stage_in_words(one: StageOfPart, part: Part) -> str:
    """What a stage asks for, and how many of several pages are done."""
    words = say("assignment.as_coached") if one.stage is None else say(f"{one.stage.value}.name")
    if part.target_bpm and one.stage in (None, Stage.TIME):
        words = say("assignment.part", facts=(words, say("assignment.tempo", bpm=part.target_bpm)))
    if one.pages > 1 and not one.done and one.pages_done:
        return say("assignment.stage_pages", stage=words, done=one.pages_done, pages=one.pages)
    return words


def lines_in_words(done: DoneOfPart) -> str:
    """How many lines were read today, and on how many days as many as were set; nothing of a tune."""
    if not isinstance(done.part, AssignedLines):
        return ""
    today = say("assignment.read_today", today=done.today, count=done.part.a_day)
    if done.days_wanted == 1:
        return today
    days, wanted = min(done.days, done.days_wanted), done.days_wanted
    # Whoever is ahead of the days, or has them all behind, is told of the whole alone.
    if days <= done.days_so_far < wanted:
        on_days = say("assignment.on_days_so_far", days=days, so_far=done.days_so_far, wanted=wanted)
    else:
        on_days = say("assignment.on_days", days=days, wanted=wanted)
    return say("assignment.part", facts=(today, on_days))


def due_in_words(done: SetAgainstDone | None, due: date | None) -> str:
    """When it is due, or since when it is overdue; that it is done."""
    if done is not None and done.done:
        return say("assignment.done")
    if due is None:
        return ""
    if done is not None and done.overdue:
        return say("assignment.overdue", day=due)
    return _due_soon(done) or say("assignment.due", day=due)


def short_due_in_words(done: SetAgainstDone, due: date | None) -> str:
    """The same in two words."""
    if due is None:
        return ""
    if done.overdue:
        return say("assignment.late")
    return _due_soon(done) or say("assignment.due_short", day=due)


def _due_soon(done: SetAgainstDone | None) -> str:
    """Today or tomorrow: nobody should have to look up the day for that."""
    if done is None or done.due is None:
        return ""
    return {
        done.today: say("assignment.due_today"),
        done.today + 1: say("assignment.due_tomorrow"),
    }.get(done.due, "")


def left_in_words(done: SetAgainstDone) -> str:
    """How much of it is left: nothing for today, or so many parts."""
    if done.done_today and not done.overdue:
        return say("assignment.enough_today")
    return say("assignment.left", left=done.left, count=len(done.parts))
