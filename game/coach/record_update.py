"""What a take, or a night, leaves in the record of its passage."""

from collections.abc import Collection
from dataclasses import replace
from math import sqrt

from game.coach.climb import climb_after, climb_take, kept_after
from game.coach.events import TakeResult
from game.coach.heard_enough import is_heard_enough
from game.coach.mark_update import with_marks
from game.coach.marks import Mark
from game.coach.notes.ratings import passage_rating
from game.coach.notes.review import reviews_after
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import PassageRecord, Tally
from game.coach.sightings import evidence_weight, is_reading
from game.coach.stages import Pulse, Stage
from game.coach.tempo.clean_takes import is_clean, short_of_time
from game.coach.tempo.like_passages import prior_for
from game.coach.tempo.readiness import own_pace
from game.coach.tempo.steady_tempo import chance_of_inattention, changed_belief, drifted_belief, updated_belief

_FIND_TIMES_KEPT = 128


def record_on(record: PassageRecord, day: int, numbers: CoachNumbers = NUMBERS) -> PassageRecord:
    """The record on `day`: nothing played yet, and less sure after the nights between. An earlier day
    changes nothing.
    """
    nights = day - record.day
    if nights <= 0:
        return record
    belief = record.belief
    if belief is not None:
        drift = min(numbers.night_drift * sqrt(nights), numbers.night_drift_most)
        belief = changed_belief(drifted_belief(belief, drift), numbers)
    return record.on_new_day(day, belief=belief)


def updated_record(
    record: PassageRecord,
    result: TakeResult,
    others: Collection[PassageRecord],
    numbers: CoachNumbers = NUMBERS,
) -> PassageRecord:
    """The record with a take in it. `others` are the records of all passages, for the first belief of this
    one.
    """
    record = replace(record_on(record, result.day, numbers), facts=result.passage)
    if not is_heard_enough(result, numbers):
        return record
    if result.is_false_start(numbers.least_notes):
        return replace(record, false_starts=record.false_starts + 1)
    first_today = record.takes_today == 0
    practised = record.practised_day if result.stage is Stage.SIGHT else result.day
    record = replace(record, takes_today=record.takes_today + 1, practised_day=practised)
    if result.stage is Stage.PLACES and _is_reading(result, numbers):
        record = _with_reading(record, result, numbers)
    if result.stage is Stage.PLACES:
        record = replace(record, places_last=Tally(result.clean, result.homes))
    if result.stage is Stage.TIME and result.pulse is Pulse.FREE:
        record = replace(record, own_pace_bpm=own_pace(result, numbers) or record.own_pace_bpm)
    if result.pulse is Pulse.METRONOME and result.stage in (Stage.TIME, Stage.SIGHT):
        record = _with_tempo(record, result, others, numbers)
        record = _with_climb(record, result, numbers)
    record = with_marks(record, result, first_today, numbers)
    if first_today:
        record = _with_review(record, result, numbers)
    return record if result.stage is Stage.RHYTHM else replace(record, wrong_last=result.wrong_notes)


def _is_reading(result: TakeResult, numbers: CoachNumbers) -> bool:
    return is_reading(
        result.stage,
        sighting=result.sighting,
        heard=result.heard,
        known_by_ear=result.known_by_ear,
        numbers=numbers,
    )


def _with_reading(record: PassageRecord, result: TakeResult, numbers: CoachNumbers) -> PassageRecord:
    """What was read. How long its player took to say so tells nothing of how soon a note was found."""
    weight = evidence_weight(self_marked=result.self_marked, numbers=numbers)
    times_s = () if result.self_marked else result.find_times_s
    return replace(
        record,
        read=record.read.plus(result.clean * weight, result.homes * weight),
        find_times_s=(*record.find_times_s, *times_s)[-_FIND_TIMES_KEPT:],
    )


def _with_tempo(
    record: PassageRecord, result: TakeResult, others: Collection[PassageRecord], numbers: CoachNumbers
) -> PassageRecord:
    """The belief and the last takes moved by right and wrong pitches; timing and stops only counted."""
    bpm = result.tempo_bpm or numbers.lowest_bpm
    belief = record.belief or prior_for(result.passage, others, record.own_pace_bpm or record.first_bpm or bpm, numbers)
    weight = evidence_weight(self_marked=result.self_marked, numbers=numbers)
    right, asked = result.right * weight, result.homes * weight
    inattention = chance_of_inattention(belief, bpm=bpm, right=right, asked=asked, numbers=numbers)
    # One such take among the last tells nothing; a second is evidence.
    alone = all(tally.asked for tally in record.recent)
    astray = alone and inattention > numbers.told_as_inattention
    tally = Tally() if astray else Tally(right, asked)
    belief = updated_belief(belief, bpm=bpm, right=right, asked=asked, numbers=numbers)
    clean = is_clean(result, numbers)
    return replace(
        record,
        belief=changed_belief(drifted_belief(belief, numbers.take_drift), numbers),
        recent=(*record.recent, tally)[-numbers.recent_takes :],
        last_bpm=round(bpm),
        held_bpm=max(round(bpm), record.held_bpm or 0) if clean and result.kept_going else record.held_bpm,
        stopped=0 if result.kept_going else record.stopped + 1,
        out_of_time=0 if clean else record.out_of_time + short_of_time(result, numbers),
    )


def _with_climb(record: PassageRecord, result: TakeResult, numbers: CoachNumbers) -> PassageRecord:
    """The take on the ladder, where it is practice: music met for the first time is no rung of it."""
    if result.stage is not Stage.TIME:
        return record
    clean = is_clean(result, numbers) and result.kept_going
    take = climb_take(result, record.last_bpm or numbers.lowest_bpm, clean=clean)
    kept_bpms = kept_after(record.kept_bpms, take)
    wished = None if record.wished_bpm in kept_bpms else record.wished_bpm
    return replace(record, climb=climb_after(record.climb, take), kept_bpms=kept_bpms, wished_bpm=wished)


def _with_review(record: PassageRecord, result: TakeResult, numbers: CoachNumbers) -> PassageRecord:
    """When a signed-off passage should come back, after the first take of a day: a timed one rates it."""
    rating = passage_rating(result, numbers) if Mark.SIGNED_OFF in record.marks else None
    if rating is None:
        return record
    known = {} if record.review is None else {record.facts.name: record.review}
    return replace(record, review=reviews_after(known, result.day, {record.facts.name: rating})[record.facts.name])
