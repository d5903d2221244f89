"""What was set in a log against what was done of it: for the player's own sheet, and for their teacher.

All of it stands in the log: each assignment as it was written, and the music that its parts were laid on the desk as.
So it needs nobody's shelf, and a tune that only the student has counts as any other. A part that nobody began has no
music, and is not done.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from datetime import date
from typing import Final
from uuid import UUID

from game.assignments.assignment import AssignedLines, AssignedTune, Assignment, AssignmentError
from game.assignments.assignment_reader import assignment_of
from game.assignments.set_against_done import (
    DoneOfPart,
    PartMusic,
    SetAgainstDone,
    TakeOnMap,
    parts_of,
    set_against_done,
)
from game.assignments.toml_table import table_in
from game.player.assignment_facts import AssignmentFacts, KeptAssignment
from game.practice_log.classes.class_writing import SetPart
from game.practice_log.database.store import Connection
from game.practice_log.queries.assigned_takes import takes_of_passages
from game.practice_log.queries.facts import facts_about
from game.practice_log.rows.entry_rows import About
from game.text.clean_text import cleaned

ALL_DAYS: Final = date.max.toordinal()
"""For whoever asks what is done on any day."""

AssignmentRead = Callable[[str, str], Assignment | None]
"""What makes of a digest and a text an assignment, None where that cannot be."""

TakesOf = Callable[[frozenset[str], int], Iterable[TakeOnMap]]
"""The takes of these passages from a moment on (microseconds since 1970), in the order of everything."""

_DAY_US = 86_400_000_000


def parts_in_log(log: Connection, player: UUID) -> tuple[SetPart, ...]:
    """Every part of every assignment that a player ever opened, withdrawn ones too, stage by stage, with the days on
    which it was done. What makes no sense, or what a newer program wrote, is passed over.
    """
    facts = AssignmentFacts()
    for fact in facts_about(log, player, About.ASSIGNMENT):
        facts.hear(fact.content, fact.moment_us)
    read = ReadOnce()
    both = [(kept, read(kept.id, kept.text)) for kept in facts.kept]
    chosen = [(kept, assignment) for kept, assignment in both if assignment is not None]
    of_each = how_far(chosen, lambda keys, since_us: takes_of_passages(log, player, keys, since_us=since_us), read)
    return tuple(
        row for (kept, assignment), done in zip(chosen, of_each, strict=True) for row in _of(kept, assignment, done)
    )


def parts_never_begun(digest: str, assignment: Assignment) -> tuple[SetPart, ...]:
    """The parts of an assignment that a student never opened."""
    nothing = set_against_done(assignment, (), (), opened=1, today=1)
    return tuple(_rows(SetPart(digest, 0, "", "", _told(assignment.due), set_in=cleaned(assignment.title)), nothing))


def how_far(
    chosen: Iterable[tuple[KeptAssignment, Assignment]],
    takes_of: TakesOf,
    read: AssignmentRead,
    *,
    today: int = ALL_DAYS,
) -> list[SetAgainstDone]:
    """How far assignments are on a day, counted from the first of January of year 1, each as its newest form says. The
    log is asked only where something was begun; what `takes_of` raises goes on.
    """
    with_music = [(kept, assignment, _music_of_forms(kept, assignment, read)) for kept, assignment in chosen]
    keys = frozenset[str]().union(*(one.keys for _, _, music in with_music for one in music))
    takes: list[TakeOnMap] = []
    if keys:
        since = min(kept.moment_us for kept, _, music in with_music if music) - _DAY_US
        takes = list(takes_of(keys, since))
    return [
        set_against_done(assignment, music, takes, opened=kept.day, today=today)
        for kept, assignment, music in with_music
    ]


class ReadOnce:
    """Texts as assignments, each read once; None for one of a newer program."""

    def __init__(self) -> None:
        self._read: dict[str, Assignment | None] = {}

    def __call__(self, digest: str, text: str) -> Assignment | None:
        if digest not in self._read:
            try:
                # Nobody is told what is wrong with it: TOML's own reader is quicker to refuse.
                self._read[digest] = assignment_of(table_in(text))
            except (AssignmentError, ValueError):
                self._read[digest] = None
        return self._read[digest]


def _of(kept: KeptAssignment, assignment: Assignment, done: SetAgainstDone) -> Iterator[SetPart]:
    common = SetPart(
        kept.id,
        0,
        "",
        "",
        _told(assignment.due),
        set_in=cleaned(assignment.title),
        opened_day=_day(kept.day),
        withdrawn=int(kept.withdrawn),
    )
    return _rows(common, done)


def _rows(common: SetPart, done: SetAgainstDone) -> Iterator[SetPart]:
    for number, part in enumerate(done.parts):
        if isinstance(part.part, AssignedLines):
            yield _lines_row(common._replace(part=number), part.part, part)
        else:
            yield from _tune_rows(common._replace(part=number), part.part, part)


def _lines_row(common: SetPart, lines: AssignedLines, done: DoneOfPart) -> SetPart:
    return common._replace(
        level=lines.level,
        a_day=lines.a_day,
        target_bpm=lines.target_bpm,
        done_day=None if done.day is None else _day(done.day),
        steps=done.days_wanted,
        step_days=_days(done.full_days),
    )


def _tune_rows(common: SetPart, tune: AssignedTune, done: DoneOfPart) -> Iterator[SetPart]:
    first, last = tune.bars or (None, None)
    for one in done.stages:
        yield common._replace(
            stage="" if one.stage is None else one.stage.value,
            title=cleaned(tune.title or tune.file_name),
            first_bar=first,
            last_bar=last,
            target_bpm=tune.target_bpm,
            done_day=None if one.day is None else _day(one.day),
            steps=max(1, one.pages),
            step_days=_days(one.page_days),
        )


def _told(due: date | None) -> str:
    return "" if due is None else due.isoformat()


def _day(number: int) -> str:
    return date.fromordinal(number).isoformat()


def _days(numbers: Iterable[int]) -> str:
    return " ".join(map(_day, numbers))


def _music_of_forms(kept: KeptAssignment, assignment: Assignment, read: AssignmentRead) -> list[PartMusic]:
    """What the parts were laid on the desk as, in any of an assignment's forms, by the numbers of its parts now: of one
    that was corrected, what was done of a part that stayed the same music is done.
    """
    now: dict[object, int] = {}
    for number, part in enumerate(parts_of(assignment)):
        now.setdefault(_what_is_read(part), number)
    found: dict[PartMusic, None] = {}
    for form in kept.forms:
        then = assignment if form is kept.forms[-1] else read(form.digest, form.text)
        parts = parts_of(then) if then is not None else ()
        for music in form.music:
            if music.part >= len(parts):
                continue
            number_now = music.part if then is assignment else now.get(_what_is_read(parts[music.part]))
            if number_now is not None:
                found[replace(music, part=number_now)] = None
    return list(found)


def _what_is_read(part: object) -> object:
    """What a part reads, whatever is asked of it."""
    if isinstance(part, AssignedTune):
        return part.title.casefold(), part.file_name.casefold(), part.bars
    return getattr(part, "level", None)
