"""What a passage earned stays its own when its file is read anew: from then on it goes by the name it has now."""

from dataclasses import replace

from game.coach.decisions import Decision
from game.coach.events import FormerPage, PageCutAnew, PassageRenamed
from game.coach.records import CoachState, PassageRecord

_ALL_NOTES = 1_000_000
"""No page has more."""


def page_for_page(said: PassageRenamed) -> PageCutAnew:
    """The same said as of pages that were cut anew: all notes of the one stood on the other."""
    return PageCutAnew(is_now=said.is_now, former=(FormerPage(name=said.was, first=1, last=_ALL_NOTES),))


def renamed(state: CoachState, was: str, is_now: str) -> CoachState:
    """The state from when on the passage `was` is called `is_now`; whoever still calls it as before means the same.

    Where both have a record, the one that came last goes on, with the marks of both and the tempi kept in both.
    """
    if was == is_now:
        return state
    names = {old: is_now if new == was else new for old, new in state.renamed.items()} | {was: is_now}
    names.pop(is_now, None)
    return replace(
        state,
        records=_records(state, was, is_now),
        decision=None if state.decision is None else _decision(state.decision, was, is_now),
        renamed=names,
    )


def _records(state: CoachState, was: str, is_now: str) -> dict[str, PassageRecord]:
    """The records in their order; the one of both stands where the later of them stood."""
    both = [name for name in state.records if name in (was, is_now)]
    if was not in both:
        return dict(state.records)
    last = both[-1]
    one = _called(state.records[last], is_now)
    if len(both) > 1:
        one = _with_marks_of(one, state.records[both[0]])
    return {
        is_now if name == last else name: one if name == last else record
        for name, record in state.records.items()
        if name == last or name not in both
    }


def _called(record: PassageRecord, name: str) -> PassageRecord:
    return replace(record, facts=replace(record.facts, name=name))


def _with_marks_of(record: PassageRecord, earlier: PassageRecord) -> PassageRecord:
    new = tuple(mark for mark in record.marks if mark not in earlier.marks)
    return replace(
        record,
        marks=(*earlier.marks, *new),
        sign_offs=(*earlier.sign_offs, *record.sign_offs),
        practised_day=record.practised_day or earlier.practised_day,
        review=record.review or earlier.review,
        read_day=record.read_day if earlier.read_day is None else earlier.read_day,
        kept_bpms=tuple(sorted({*earlier.kept_bpms, *record.kept_bpms})),
    )


def _decision(decision: Decision, was: str, is_now: str) -> Decision:
    return replace(decision, passage=is_now) if decision.passage == was else decision
