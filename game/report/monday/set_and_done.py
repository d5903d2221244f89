"""What was set against what was done, part by part over the class. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from game.practice_log.classes.class_queries import SetInClass
from game.practice_log.classes.need import WEEK_DAYS
from game.report.monday.class_monday import StudentMonday


@dataclass(frozen=True, slots=True, kw_only=True)
class PartOfClass:
    """A part of an assignment for all whom it was set for: how many are done with it, and the names of those who are
    not, `overdue` past its day and `open` before. `part` is its first stage, of anybody.
    """

    part: SetInClass
    set_for: int
    done: int
    overdue: tuple[str, ...]
    open: tuple[str, ...]


def parts_of_class(students: Sequence[StudentMonday], today: date) -> tuple[PartOfClass, ...]:
    """Every part that is due or was within the week, or is not done by somebody yet; what is due first at the head, and
    what has no day behind. A part is done when all its stages are.
    """
    of_part: dict[tuple[str, int], list[tuple[str, list[SetInClass]]]] = {}
    for student in students:
        stages: dict[tuple[str, int], list[SetInClass]] = {}
        for one in student.week.parts:
            if not one.withdrawn:
                stages.setdefault((one.assignment, one.part), []).append(one)
        for key, set_stages in stages.items():
            of_part.setdefault(key, []).append((student.name, set_stages))
    parts = [_together(who, today) for who in of_part.values()]
    return tuple(sorted((part for part in parts if _is_shown(part, today)), key=_in_order))


def _together(who: Sequence[tuple[str, list[SetInClass]]], today: date) -> PartOfClass:
    overdue = [name for name, stages in who if any(stage.is_overdue(today) for stage in stages)]
    undone = [name for name, stages in who if any(stage.done is None for stage in stages)]
    return PartOfClass(
        part=who[0][1][0],
        set_for=len(who),
        done=len(who) - len(undone),
        overdue=tuple(overdue),
        open=tuple(name for name in undone if name not in overdue),
    )


def _is_shown(part: PartOfClass, today: date) -> bool:
    due = part.part.due
    return part.done < part.set_for or (due is not None and due > today - timedelta(days=WEEK_DAYS))


def _in_order(part: PartOfClass) -> tuple[date, str, str, int]:
    return part.part.due or date.max, part.part.set_in, part.part.assignment, part.part.part
