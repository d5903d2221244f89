"""The coach: a pure transition from what it knew and what happened to what it knows and what comes next.

`advance` takes one event, `replayed` all events of a log; the same events in the same order always give the
same state and the same decisions.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import NamedTuple

from game.coach import reasons
from game.coach.decisions import Decision, Offer
from game.coach.events import (
    Event,
    Happening,
    Overruled,
    PageCutAnew,
    PagePlayed,
    PassageFacts,
    PassageOpened,
    PassageRenamed,
    TakeResult,
)
from game.coach.heard_enough import is_heard_enough
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.pages_cut_anew import records_cut_anew
from game.coach.record_of_page import put_page, record_of_page
from game.coach.record_update import record_on, updated_record
from game.coach.records import CoachState, PassageRecord
from game.coach.renamed_passages import renamed
from game.coach.stage_steps import StageStep, begin, start_bpm, step_after
from game.coach.stages import Pulse, Stage
from game.coach.tempo.next_tempo import settling_tempo, tempo_on_new_day
from game.coach.wishes import granted, wish_after
from game.message import Message


class _Outcome(NamedTuple):
    """What an event changes: the record of its passage, what is left of wishes, and the decision."""

    record: PassageRecord
    wish: float
    decision: Decision


def advance(state: CoachState, event: Event, numbers: CoachNumbers = NUMBERS) -> tuple[CoachState, Decision]:
    """One event taken in, and the next take decided."""
    after = _after(state, event, numbers)
    records = dict(state.records)
    _put(records, after.record)
    return replace(state, records=records, wish=after.wish, decision=after.decision), after.decision


def page_played(state: CoachState, played: PagePlayed, numbers: CoachNumbers = NUMBERS) -> CoachState:
    """The state after a page was played within a clean take of its whole tune, of which it was heard just before. What
    comes next was decided by the whole.
    """
    records = dict(state.records)
    put_page(records, _page_after(state, played, numbers))
    return replace(state, records=records)


NOTHING_KNOWN = CoachState()


def replayed(
    events: Iterable[Happening], numbers: CoachNumbers = NUMBERS, *, state: CoachState = NOTHING_KNOWN
) -> CoachState:
    """The state after all that happened in a log, oldest first; or after what happened since `state`."""
    # One table of records for all of them: to copy thousands for each event would take most of the time.
    records = dict(state.records)
    state = replace(state, records=records)
    for event in events:
        if isinstance(event, PassageRenamed):
            state = renamed(state, event.was, event.is_now)
            records = dict(state.records)
            state = replace(state, records=records)
            continue
        if isinstance(event, PageCutAnew):
            records = dict(records_cut_anew(records, state.renamed, event))
            state = replace(state, records=records)
            continue
        if isinstance(event, PagePlayed):
            put_page(records, _page_after(state, event, numbers))
            continue
        after = _after(state, event, numbers)
        _put(records, after.record)
        state = CoachState(records=records, wish=after.wish, decision=after.decision, renamed=state.renamed)
    return state


def _put(records: dict[str, PassageRecord], record: PassageRecord) -> None:
    """The record in its place: at the end, as the one that came last."""
    records.pop(record.facts.name, None)
    records[record.facts.name] = record


def _after(state: CoachState, event: Event, numbers: CoachNumbers) -> _Outcome:
    name = event.passage.name
    if name in state.renamed:
        event = replace(event, passage=replace(event.passage, name=state.renamed[name]))
    match event:
        case PassageOpened():
            return _opened(state, event, numbers)
        case TakeResult():
            return _played(state, event, numbers)
        case Overruled():
            return _overruled(state, event, numbers)


def _page_after(state: CoachState, played: PagePlayed, numbers: CoachNumbers) -> PassageRecord:
    name = state.renamed.get(played.result.passage.name, played.result.passage.name)
    result = replace(played.result, passage=replace(played.result.passage, name=name))
    return record_of_page(state.records.get(name), PagePlayed(result), state, numbers)


def _opened(state: CoachState, event: PassageOpened, numbers: CoachNumbers) -> _Outcome:
    record = _record_of(state, event.passage, event.day, event.begin_at, numbers)
    if record.takes_today >= numbers.takes_a_day:
        said = reasons.enough_for_today(record.takes_today)
        step = StageStep(record=record, bpm=_opening_bpm(state, record, numbers), said=(said,), offer=Offer.SIBLING)
    elif record.climbing and record.belief is not None and not record.takes_today:
        tempo = tempo_on_new_day(record, record.belief, wish=state.wish, numbers=numbers)
        said = reasons.tempo_said(tempo, record.last_bpm or tempo.bpm)
        step = StageStep(record=record, bpm=tempo.bpm, said=(said,))
    else:
        step = begin(record, record.stage, record.pulse, _opening_bpm(state, record, numbers))
    return _Outcome(step.record, state.wish, _decided(step, step.said, numbers))


def _opening_bpm(state: CoachState, record: PassageRecord, numbers: CoachNumbers) -> int | None:
    """Where the metronome stands when a passage is laid on the stand that was played today, or never with it."""
    if record.pulse is Pulse.FREE:
        return None
    bpm = _left_at(state, record) or start_bpm(record, state, numbers)
    return min(bpm, record.rhythm_bpm or bpm) if record.stage is Stage.RHYTHM else bpm


def _left_at(state: CoachState, record: PassageRecord) -> int | None:
    """The tempo decided last, where this passage was laid aside and comes back on the same day."""
    last = state.decision
    today = record.takes_today > 0 or record.false_starts > 0
    same = last is not None and last.passage == record.facts.name and today
    return last.tempo_bpm if last is not None and same else None


def _played(state: CoachState, result: TakeResult, numbers: CoachNumbers) -> _Outcome:
    before = _record_of(state, result.passage, result.day, result.stage, numbers)
    record = updated_record(before, result, state.records.values(), numbers)
    if not is_heard_enough(result, numbers):
        step = StageStep(record=record, bpm=_bpm_of(result, record, state, numbers), said=(reasons.NOT_HEARD_ENOUGH,))
    elif result.is_false_start(numbers.least_notes):
        step = _begun_and_left(record, result, state, numbers)
    else:
        step = step_after(record, result, state, numbers)
    step = _within_the_day(step, result, numbers)
    wish = state.wish * (numbers.wish_fades if result.pulse is Pulse.METRONOME else 1.0)
    decision = replace(
        _decided(step, (reasons.report(result), *step.said), numbers),
        settling=step.settling,
        earned=tuple(mark for mark in record.marks if mark not in before.marks),
        to_review=_to_review(before, result),
        just_read=record.read_day is not None and before.read_day is None,
    )
    return _Outcome(step.record, wish, decision)


def _begun_and_left(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> StageStep:
    """The same once more after a false start, but not for ever."""
    bpm = _bpm_of(result, record, state, numbers)
    if record.false_starts >= numbers.false_starts_a_day:
        said = reasons.begun_and_left(record.false_starts)
        return StageStep(record=record, bpm=bpm, said=(said,), offer=Offer.SIBLING)
    said = reasons.FALSE_START if result.homes else reasons.SAME_ONCE_MORE
    return StageStep(record=record, bpm=bpm, said=(said,))


def _bpm_of(result: TakeResult, record: PassageRecord, state: CoachState, numbers: CoachNumbers) -> int:
    return round(result.tempo_bpm) if result.tempo_bpm else start_bpm(record, state, numbers)


def _overruled(state: CoachState, event: Overruled, numbers: CoachNumbers) -> _Outcome:
    record = _record_of(state, event.passage, event.day, Stage.PLACES, numbers)
    last = state.decision
    bpm = last.tempo_bpm if last is not None and last.passage == record.facts.name else None
    step = granted(record, event, bpm or start_bpm(record, state, numbers), numbers)
    return _Outcome(step.record, wish_after(state.wish, event.wish, numbers), _decided(step, step.said, numbers))


def _record_of(
    state: CoachState, passage: PassageFacts, day: int, begin_at: Stage, numbers: CoachNumbers
) -> PassageRecord:
    """The passage's record as it stands on `day`, a new one where it was never played."""
    known = state.records.get(passage.name)
    if known is None:
        return PassageRecord(facts=passage, stage=begin_at, day=day)
    return replace(record_on(known, day, numbers), facts=passage)


def _within_the_day(step: StageStep, result: TakeResult, numbers: CoachNumbers) -> StageStep:
    """The day's last take is a settling one, and after it other bars come. A passage given up stays given
    up.
    """
    record = step.record
    if step.offer is not Offer.AGAIN:
        return step
    if record.takes_today >= numbers.takes_a_day:
        return replace(step, said=(reasons.enough_for_today(record.takes_today),), offer=Offer.SIBLING)
    timed = record.climbing and result.stage is Stage.TIME and result.pulse is Pulse.METRONOME
    if timed and record.belief is not None and record.takes_today == numbers.takes_a_day - 1:
        easy = settling_tempo(record, record.belief, numbers, most_bpm=step.bpm)
        return replace(step, bpm=easy.bpm, said=(reasons.tempo_said(easy, easy.bpm),), settling=True)
    return step


def _to_review(before: PassageRecord, result: TakeResult) -> tuple[int, ...]:
    """Notes wrong two takes running, and notes that strayed from their home."""
    if result.stage is Stage.RHYTHM:
        return ()
    return tuple(sorted((result.wrong_notes & before.wrong_last) | result.other_place_notes))


def _decided(step: StageStep, reason: tuple[Message, ...], numbers: CoachNumbers) -> Decision:
    """The decision a step comes to. A tempo stands where the metronome plays, and only there, within the lowest and
    the highest.
    """
    record = step.record
    bpm = min(max(step.bpm or numbers.lowest_bpm, numbers.lowest_bpm), numbers.highest_bpm)
    return Decision(
        passage=record.facts.name,
        offer=step.offer,
        stage=record.stage,
        pulse=record.pulse,
        tempo_bpm=bpm if record.pulse is Pulse.METRONOME else None,
        reason=reason,
    )
