"""What pages earned stays when a tune is cut into pages otherwise: a new page goes on from the one on which most of its
notes stood.

It has that page's stage, tempo and history. But nothing is given for notes that were not played so: a mark, a tempo
kept, half of a sign-off, and that it was read or its rhythm kept, it has only where every page had it on which any of
its notes stood. What the former pages earned stays theirs.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from game.coach.events import FormerPage, PageCutAnew
from game.coach.marks import Mark, SignOff
from game.coach.records import PassageRecord


class _Part(NamedTuple):
    """Where notes of the new page stood, and what is known of that page."""

    page: FormerPage
    record: PassageRecord

    def notes(self, numbers: frozenset[int]) -> frozenset[int]:
        """The notes of the new page that had these numbers."""
        here = (number - self.page.shift for number in numbers)
        return frozenset(number for number in here if self.page.first <= number <= self.page.last)


def records_cut_anew(
    records: Mapping[str, PassageRecord], renamed: Mapping[str, str], said: PageCutAnew
) -> Mapping[str, PassageRecord]:
    """The records once a page is there; these themselves where that changes nothing, as when it is heard again, or when
    nothing is known of the page on which most of its notes stood. `renamed` as in `CoachState`.

    A page that was played itself meanwhile goes on as it is, with what it earned before.
    """
    name = renamed.get(said.is_now, said.is_now)
    of_page = [(page, records.get(renamed.get(page.name, page.name))) for page in said.former]
    parts = [_Part(page, record) for page, record in of_page if record is not None]
    if not parts or of_page[0][1] is None or any(part.record.facts.name == name for part in parts):
        return records
    heir = _heir(name, parts, complete=len(parts) == len(of_page))
    known = records.get(name)
    if known is None:
        return _put_after(records, parts[0].record.facts.name, heir)
    joined = _joined(known, heir)
    return records if joined == known else {**records, name: joined}


def _put_after(records: Mapping[str, PassageRecord], before: str, heir: PassageRecord) -> dict[str, PassageRecord]:
    """The records in their order, which is that in which the passages came last."""
    put: dict[str, PassageRecord] = {}
    for name, record in records.items():
        put[name] = record
        if name == before:
            put[heir.facts.name] = heir
    return put


def _heir(name: str, parts: Sequence[_Part], *, complete: bool) -> PassageRecord:
    """What the new page begins with. `complete` where something is known of every note of it."""
    main, earning = parts[0], parts if complete else ()
    marks = tuple(mark for mark in main.record.marks if all(mark in part.record.marks for part in earning) and earning)
    most_bpm = min((max(part.record.kept_bpms, default=0) for part in earning), default=0)
    held = [part.record.held_bpm or 0 for part in earning]
    return replace(
        main.record,
        facts=replace(main.record.facts, name=name),
        marks=marks,
        sign_offs=_sign_offs(earning),
        review=main.record.review if Mark.SIGNED_OFF in marks else None,
        read_day=_last_day(part.record.read_day for part in earning),
        rhythm_day=_last_day(part.record.rhythm_day for part in earning),
        kept_bpms=tuple(bpm for bpm in main.record.kept_bpms if bpm <= most_bpm),
        climb=tuple(take for take in main.record.climb if take.bpm <= most_bpm),
        held_bpm=min(held, default=0) or None,
        wished_bpm=None,
        wrong_last=main.notes(main.record.wrong_last),
    )


def _sign_offs(parts: Sequence[_Part]) -> tuple[SignOff, ...]:
    """The days on which every part had half of a sign-off, with the wrong notes of all, told by the last of them."""
    halves = [{one.day: one for one in part.record.sign_offs} for part in parts]
    days = sorted(set[int].intersection(*(set(of_part) for of_part in halves))) if halves else []
    return tuple(
        SignOff(
            day=day,
            wrong_notes=frozenset[int]().union(
                *(part.notes(of_part[day].wrong_notes) for part, of_part in zip(parts, halves, strict=True))
            ),
            minute=_latest([of_part[day].minute for of_part in halves]),
        )
        for day in days
    )


def _latest(minutes: Sequence[int | None]) -> int | None:
    known = [minute for minute in minutes if minute is not None]
    return max(known) if len(known) == len(minutes) else None


def _last_day(of_parts: Iterable[int | None]) -> int | None:
    days = list(of_parts)
    known = [day for day in days if day is not None]
    return max(known) if known and len(known) == len(days) else None


def _joined(known: PassageRecord, heir: PassageRecord) -> PassageRecord:
    """A page that was played itself, with what was earned of it before."""
    days = {one.day for one in known.sign_offs}
    return replace(
        known,
        marks=(*(mark for mark in heir.marks if mark not in known.marks), *known.marks),
        sign_offs=(*(one for one in heir.sign_offs if one.day not in days), *known.sign_offs),
        practised_day=heir.practised_day if known.practised_day is None else known.practised_day,
        review=known.review or heir.review,
        read_day=heir.read_day if known.read_day is None else known.read_day,
        rhythm_day=heir.rhythm_day if known.rhythm_day is None else known.rhythm_day,
        kept_bpms=tuple(sorted({*heir.kept_bpms, *known.kept_bpms})),
    )
