"""Ink: which written notes a player has made their own, and how far the others have come. Ink is never taken away.

It belongs to each written spelling at its home (G♭ is not F♯): to be found quickly and unhelped, other notes between,
a few times, on two days with a night between, and at least once inside music. What was met and is less is pencil, and
so is all that players mark themselves. A fold over takes: `ink_after`; what is seen of it on a map: `ink_of_map`.
"""

from collections.abc import Mapping
from enum import Enum
from typing import NamedTuple

from game.coach.notes.items import ItemKey
from game.coach.notes.note_reads import NoteRead, TakeReads
from game.coach.numbers import NUMBERS, CoachNumbers
from game.neck.tuning import Place

_MINUTES_A_DAY = 24 * 60


class Ink(Enum):
    """How far a written note has come: fill says it first. `DUE` is ink that a pencil ring asks to be looked at."""

    NOT_MET = "not met"
    PENCIL = "pencil"
    INK = "ink"
    DUE = "due again"

    @property
    def inked(self) -> bool:
        """Whether it is ink, with a ring or without."""
        return self in (Ink.INK, Ink.DUE)


class SpellingKey(NamedTuple):
    """A written note ("Gb4", whichever way its accidental is shown) at its home on the map of that name."""

    written: str
    map_name: str
    place: Place


class InkRecord(NamedTuple):
    """What was seen of a spelling. Begin with `InkRecord()`: met, and no more.

    `finds` are quick and unhelped, counted no further than ink asks; `first` is when the first of them was, in minutes
    from any fixed midnight. `two_days` and `in_music` tell what they were like, `inked_day` the day that made it ink.
    """

    finds: int = 0
    first: int = 0
    two_days: bool = False
    in_music: bool = False
    inked_day: int | None = None


Inks = Mapping[SpellingKey, InkRecord]
"""All that was met."""


def spelling_key(key: ItemKey) -> SpellingKey:
    """The spelling that an item is one way of."""
    return SpellingKey(key.written, key.map_name, key.place)


def ink_after(inks: Inks, take: TakeReads, numbers: CoachNumbers = NUMBERS) -> Inks:
    """The ink after one more take."""
    after: dict[SpellingKey, InkRecord] = {}
    for key in take.shown:
        spelling = spelling_key(key)
        after.setdefault(spelling, inks.get(spelling, InkRecord()))
    for read in take.reads:
        spelling = spelling_key(read.key)
        record = after.get(spelling) or inks.get(spelling, InkRecord())
        after[spelling] = _record_after(record, read, take, numbers)
    changed = {spelling: record for spelling, record in after.items() if inks.get(spelling) != record}
    return {**inks, **changed} if changed else inks


def _record_after(record: InkRecord, read: NoteRead, take: TakeReads, numbers: CoachNumbers) -> InkRecord:
    if record.inked_day is not None or not read.quick or take.self_marked:
        return record
    now = take.day * _MINUTES_A_DAY + take.minute
    first = record.first if record.finds else now
    another_day = take.day > first // _MINUTES_A_DAY and now - first >= 60 * numbers.sign_off_hours
    found = InkRecord(
        finds=min(record.finds + 1, numbers.ink_finds),
        first=first,
        two_days=record.two_days or another_day,
        in_music=record.in_music or not take.drill,
    )
    enough = found.finds >= numbers.ink_finds and found.two_days and found.in_music
    return found._replace(inked_day=take.day) if enough else found
