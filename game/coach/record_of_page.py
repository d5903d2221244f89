"""The record of a page that was played within its whole tune."""

from game.coach.events import PagePlayed
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.record_update import updated_record
from game.coach.records import CoachState, PassageRecord
from game.coach.stage_steps import step_after
from game.coach.stages import Pulse, Stage

_ON_THE_WAY = (Stage.LETTERS, Stage.PLACES, Stage.RHYTHM, Stage.TIME)


def record_of_page(
    known: PassageRecord | None, played: PagePlayed, state: CoachState, numbers: CoachNumbers = NUMBERS
) -> PassageRecord:
    """The record of a page after it was played within the whole. The stage follows where the take asked as much as the
    page has come to, and never goes back.
    """
    result = played.result
    if known is None:
        known = PassageRecord(facts=result.passage, day=result.day)
    record = updated_record(known, result, state.records.values(), numbers)
    if result.stage is Stage.SIGHT or _demand(result.stage, result.pulse) < _demand(known.stage, known.pulse):
        return record
    return step_after(record, result, state, numbers).record


def _demand(stage: Stage, pulse: Pulse) -> tuple[int, bool]:
    return _ON_THE_WAY.index(stage) if stage in _ON_THE_WAY else 0, pulse is Pulse.METRONOME


def put_page(records: dict[str, PassageRecord], record: PassageRecord) -> None:
    """The record in its place among the others; a new one before that of the whole, which came last."""
    name = record.facts.name
    last = records.popitem() if records and name not in records else None
    records[name] = record
    if last is not None:
        records[last[0]] = last[1]
