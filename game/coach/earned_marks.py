"""Which marks passages earned, without all else that the coach works out: years of practice in a moment.

It is the same that `coach.replayed` comes to, as both use the same rules.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from game.coach.events import Event, Happening, PageCutAnew, PagePlayed, PassageRenamed, TakeResult
from game.coach.heard_enough import is_heard_enough
from game.coach.mark_update import with_marks
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.pages_cut_anew import records_cut_anew
from game.coach.records import CoachState, PassageRecord
from game.coach.renamed_passages import renamed

_NO_RECORDS: Mapping[str, PassageRecord] = {}
_NO_NAMES: Mapping[str, str] = {}


class Earned(NamedTuple):
    """The passage that something happened to, by its name of now, the marks it earned by it, and whether
    it was read by it.
    """

    passage: str
    marks: tuple[Mark, ...] = ()
    read: bool = False


class EarnedMarks:
    """The marks so far. Begin with nothing, or go on from records and names that were kept; of a record only the day,
    what was played on it, marks, sign-offs and when it was read are used.
    """

    def __init__(
        self, records: Mapping[str, PassageRecord] = _NO_RECORDS, names: Mapping[str, str] = _NO_NAMES
    ) -> None:
        self.records, self.names = dict(records), names

    def hear(self, happening: Happening, numbers: CoachNumbers = NUMBERS) -> Earned:
        """What something that happened earned."""
        if isinstance(happening, PassageRenamed):
            after = renamed(CoachState(records=self.records, renamed=self.names), happening.was, happening.is_now)
            self.records, self.names = dict(after.records), after.renamed
            return Earned(happening.is_now)
        if isinstance(happening, PageCutAnew):
            return self._cut_anew(happening)
        if isinstance(happening, PagePlayed):
            happening = happening.result
        name = self.names.get(happening.passage.name, happening.passage.name)
        before = self._on_its_day(name, happening)
        after_it = _played(before, happening, numbers) if isinstance(happening, TakeResult) else before
        # At the end, as the one that came last.
        self.records.pop(name, None)
        self.records[name] = after_it
        return Earned(
            name,
            tuple(mark for mark in after_it.marks if mark not in before.marks),
            read=after_it.read_day is not None and before.read_day is None,
        )

    def _cut_anew(self, said: PageCutAnew) -> Earned:
        name = self.names.get(said.is_now, said.is_now)
        before = self.records.get(name)
        self.records = dict(records_cut_anew(self.records, self.names, said))
        now = self.records.get(name)
        if now is None:
            return Earned(name)
        had = before.marks if before is not None else ()
        was_read = before is not None and before.read_day is not None
        new = tuple(mark for mark in now.marks if mark not in had)
        return Earned(name, new, read=now.read_day is not None and not was_read)

    def _on_its_day(self, name: str, event: Event) -> PassageRecord:
        known = self.records.get(name)
        if known is None:
            return PassageRecord(facts=replace(event.passage, name=name), day=event.day)
        return known.on_new_day(event.day) if event.day > known.day else known


def _played(record: PassageRecord, result: TakeResult, numbers: CoachNumbers) -> PassageRecord:
    if not is_heard_enough(result, numbers) or result.is_false_start(numbers.least_notes):
        return record
    first_today = record.takes_today == 0
    record = record.changed(takes_today=record.takes_today + 1)
    return with_marks(record, result, first_today, numbers) if result.homes else record
