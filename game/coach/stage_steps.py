"""The way through the stages of a passage: each take either opens the next demand or asks for the same once
more.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import geometric_mean

from game.coach import reasons
from game.coach.decisions import Offer
from game.coach.events import TakeResult
from game.coach.mark_rules import is_clean_at_target, is_found, is_too_short
from game.coach.marks import Mark, SignOff, are_apart
from game.coach.numbers import CoachNumbers
from game.coach.records import CoachState, PassageRecord
from game.coach.stages import Pulse, Stage
from game.coach.tempo.clean_takes import is_beside_the_beat, is_right_enough, short_of_time
from game.coach.tempo.like_passages import has_like_passages, prior_for
from game.coach.tempo.next_tempo import (
    NextTempo,
    TempoReason,
    fastest_practised,
    most_while_barred,
    no_rise,
    tempo_after_take,
    tempo_on_new_day,
)
from game.coach.tempo.readiness import PassageReadiness, Readiness, own_pace, readiness_of, surely_right, usual_pace
from game.message import Message


@dataclass(frozen=True, slots=True, kw_only=True)
class StageStep:
    """Where a passage goes: its record at the next stage, the tempo there, and what to say."""

    record: PassageRecord
    bpm: int | None
    said: tuple[Message, ...]
    offer: Offer = Offer.AGAIN
    settling: bool = False


def step_after(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> StageStep:
    """The next step after a take that `record` has taken in. Follows what was played, which the player may
    choose.
    """
    untimed = not result.stage.rhythm_counts  # the bridge clicks, but asks for no rhythm
    record = replace(record, stage=result.stage, pulse=Pulse.FREE if untimed else result.pulse)
    match (result.stage, result.pulse):
        case (Stage.LETTERS, _):
            return _after_letters(record, result, numbers)
        case (Stage.PLACES, _):
            return _after_places(record, result, state, numbers)
        case (Stage.RHYTHM, _):
            return _after_rhythm(record, result, state, numbers)
        case (Stage.SIGHT, _):
            met = replace(record, stage=Stage.PLACES, pulse=Pulse.FREE)
            return StageStep(record=met, bpm=None, said=(reasons.SIGHT_OVER,), offer=Offer.SIBLING)
        case (_, Pulse.FREE):
            return _after_free_time(record, result, state, numbers)
        case _:
            return _after_timed(record, result, state, numbers)


def begin(record: PassageRecord, stage: Stage, pulse: Pulse, bpm: int | None = None) -> StageStep:
    """The first take of a stage."""
    begun = replace(record, stage=stage, pulse=pulse, tries=0)
    return StageStep(record=begun, bpm=bpm, said=(reasons.begun(stage, pulse, bpm),))


def rhythm_comes_first(record: PassageRecord) -> bool:
    """Whether the plan of a day brings a passage back with its rhythm, on one note, though its notes are not sure yet:
    on another day than they were tried. The rhythm asks for no pitch, so it need not wait for them, and nobody learns
    to read by nothing but the same notes evening after evening. Once it was kept with the metronome it has had its
    turn.
    """
    waits = record.stage is Stage.PLACES and record.places_last.asked > 0 and not record.takes_today
    return waits and _never_ready(record) and record.rhythm_day is None and not record.fell_back


def _never_ready(record: PassageRecord) -> bool:
    """Whether its notes were tried without a clock, and were never sure and quick enough for one."""
    return record.first_bpm is None and record.belief is None and record.places_last.asked > 0


def start_bpm(record: PassageRecord, state: CoachState, numbers: CoachNumbers) -> int:
    """The tempo at which a passage meets the metronome: its first tempo, or near the mark where passages
    like it are known; once it has been played in time, a little under its steady tempo, and never far over its target.
    """
    first = _first_bpm(record, numbers)
    belief = record.belief
    if belief is None and has_like_passages(record.facts, state.records.values(), numbers):
        belief = prior_for(record.facts, state.records.values(), first, numbers)
        near = tempo_on_new_day(replace(record, belief=belief), belief, wish=state.wish, numbers=numbers).bpm
        return max(min(near, int(first * (1 + numbers.far_step))), numbers.lowest_bpm)
    if belief is None:
        return first
    bpm = min(int(belief.bpm * numbers.new_day_share), fastest_practised(record.facts, numbers))
    bpm = max(bpm, numbers.lowest_bpm)
    if not no_rise(record, numbers):
        return bpm
    return min(bpm, most_while_barred(record, record.last_bpm or bpm, numbers))


def _first_bpm(record: PassageRecord, numbers: CoachNumbers) -> int:
    """Near the player's own pace in free time, a little under it or over, by what the times to find the notes allow;
    where it is not known, by these alone. No faster than the target. Times to find are of the first sightings: whoever
    plays these bars at 99 by now is not to begin at 58.
    """
    target = record.facts.target_bpm or numbers.highest_bpm
    own = min(record.own_pace_bpm or 0, target)
    slowest, fastest = own * numbers.new_day_share, own * numbers.over_own_pace
    paces = [bpm for bpm in (slowest, record.first_bpm) if bpm]
    bpm = geometric_mean(paces) if paces else numbers.quick_at_bpm
    near = min(max(bpm, slowest), fastest) if own else bpm
    return max(min(round(near), target), numbers.lowest_bpm)


def _again(record: PassageRecord, bpm: int | None, said: tuple[Message, ...], numbers: CoachNumbers) -> StageStep:
    """Once more; after some tries an easier passage, for nobody learns by running against a wall."""
    record = replace(record, tries=record.tries + 1)
    if record.tries >= numbers.tries_before_help:
        return StageStep(record=record, bpm=bpm, said=(reasons.EASIER_AFTER_TRIES,), offer=Offer.EASIER)
    return StageStep(record=record, bpm=bpm, said=said)


def _after_letters(record: PassageRecord, result: TakeResult, numbers: CoachNumbers) -> StageStep:
    if surely_right(result.clean, result.homes, numbers):
        return begin(record, Stage.PLACES, Pulse.FREE)
    return _again(record, None, (reasons.AGAIN[Stage.LETTERS],), numbers)


def _after_places(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> StageStep:
    """To the clock when what was read is sure and quick. A passage found whole is sure too, if only by
    heart.
    """
    whole = is_found(result)
    sure = whole or (surely_right(record.read.right, record.read.asked, numbers) and not record.fell_back)
    now_s = () if result.self_marked else result.find_times_s
    times_s = now_s if whole else record.find_times_s or now_s
    at = readiness_of(sure=sure, find_times_s=times_s, passage=record.facts, numbers=numbers)
    if result.unread:
        return _again(record, None, (reasons.TO_THE_END,), numbers)
    if at.readiness is not Readiness.READY and not _is_served_slowly(record, at, times_s, numbers):
        slow = at.readiness is Readiness.SLOW
        said = reasons.not_yet_ready(at.first_bpm, record.facts, slow=slow)
        return _again(record, None, _said_after_fall(record, at, said, numbers), numbers)
    record = replace(record, first_bpm=at.first_bpm)
    if record.belief is not None:
        return begin(record, Stage.TIME, Pulse.METRONOME, start_bpm(record, state, numbers))
    return begin(record, Stage.RHYTHM, Pulse.FREE)


def _is_served_slowly(
    record: PassageRecord, at: PassageReadiness, times_s: Sequence[float], numbers: CoachNumbers
) -> bool:
    """Whether one who is sure, and after some tries no quicker, gets a slow click: there are people whose limit it is,
    and half of their notes come sooner than the click asks for. Not where it was given up twice.
    """
    patient = record.tries + 1 >= numbers.tries_before_help and record.fell_back < numbers.slow_chances
    return patient and at.readiness is Readiness.SLOW and (usual_pace(times_s, record.facts) or 0) >= numbers.lowest_bpm


def _said_after_fall(
    record: PassageRecord, at: PassageReadiness, said: tuple[Message, ...], numbers: CoachNumbers
) -> tuple[Message, ...]:
    """Who gave up the metronome, is sure of what was read and quick must find every note before it comes again."""
    read = record.read
    quick = at.first_bpm is None or at.first_bpm >= numbers.quick_at_bpm
    if record.fell_back and said[0] == reasons.NOT_SURE and quick and surely_right(read.right, read.asked, numbers):
        return (reasons.FIND_ALL,)
    return said


def _after_rhythm(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> StageStep:
    bpm = None if result.tempo_bpm is None else round(result.tempo_bpm)
    if result.share(result.clean - result.off_time) < numbers.go_on_share:
        slower = _slower_rhythm(record, bpm, numbers)
        return _again(slower, slower.rhythm_bpm, (reasons.AGAIN[Stage.RHYTHM],), numbers)
    gave_up_click = bpm is None and (record.rhythm_bpm or numbers.highest_bpm) <= numbers.lowest_bpm
    record = replace(record, rhythm_bpm=None)
    if gave_up_click:  # not back to the click that was too fast, and here again, for ever
        return begin(record, Stage.TIME, Pulse.FREE)
    if bpm is None:
        return begin(record, Stage.RHYTHM, Pulse.METRONOME, _rhythm_bpm(record, result, state, numbers))
    record = replace(record, rhythm_day=record.day)
    last = record.places_last
    if _never_ready(record) and last.right < numbers.go_on_share * last.asked:
        places = begin(record, Stage.PLACES, Pulse.FREE)
        return replace(places, said=(reasons.PLACES_AFTER_RHYTHM,))
    if record.belief is not None:
        return begin(record, Stage.TIME, Pulse.METRONOME, start_bpm(record, state, numbers))
    return begin(record, Stage.TIME, Pulse.FREE)


def _rhythm_bpm(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> int:
    """The tempo at which a rhythm meets the metronome: a little under the pace at which it was just played, on one note
    and without a click; no faster than the target, and no slower than its notes will be asked for.
    """
    own = min(own_pace(result, numbers) or 0, record.facts.target_bpm or numbers.highest_bpm)
    return max(int(own * numbers.new_day_share), start_bpm(record, state, numbers))


def _slower_rhythm(record: PassageRecord, bpm: int | None, numbers: CoachNumbers) -> PassageRecord:
    """The rhythm slower after a take that failed at `bpm`, and without the metronome when it was slowest
    already.
    """
    if bpm is None:
        return record
    if bpm <= numbers.lowest_bpm:
        return replace(record, pulse=Pulse.FREE, rhythm_bpm=numbers.lowest_bpm)
    return replace(record, rhythm_bpm=max(int(bpm * (1 - numbers.retreat)), numbers.lowest_bpm))


def _after_free_time(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> StageStep:
    """To the metronome; where the notes were never sure enough for one, they must be by this take."""
    if _never_ready(record) and not result.unread and not surely_right(result.right, result.homes, numbers):
        return _again(record, None, (reasons.FREE_NOT_SURE,), numbers)
    if result.share(result.right) >= numbers.go_on_share and not result.unread:
        return begin(record, Stage.TIME, Pulse.METRONOME, start_bpm(record, state, numbers))
    return _again(record, None, (reasons.AGAIN[Stage.TIME],), numbers)


def _after_timed(record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers) -> StageStep:
    """The climb, and the ways out of it."""
    ending = _signing_off(record, result, state, numbers)
    if ending is not None:
        return ending
    step = tempo_after_take(record, result, wish=state.wish, numbers=numbers)
    if step.below_lowest and step.why is TempoReason.FELL_APART:
        return _fallen_back(record)
    played = round(result.tempo_bpm or numbers.lowest_bpm)
    if record.out_of_time >= numbers.off_time_in_a_row and short_of_time(result, numbers):
        record = replace(record, out_of_time=1)  # counted anew, and not forgotten
        if is_beside_the_beat(result, numbers) or step.bpm >= played:
            return _rhythm_alone(record, result, step, numbers)
    return StageStep(record=record, bpm=step.bpm, said=(reasons.tempo_said(step, played),))


def _rhythm_alone(record: PassageRecord, result: TakeResult, step: NextTempo, numbers: CoachNumbers) -> StageStep:
    slower = max(int(step.bpm * numbers.new_day_share), numbers.lowest_bpm)
    rhythm = replace(record, stage=Stage.RHYTHM, tries=0, rhythm_bpm=slower)
    if not is_beside_the_beat(result, numbers):
        said = reasons.RHYTHM_ALONE_TIMING
    else:
        said = reasons.RHYTHM_ALONE if is_right_enough(result, numbers) else reasons.RHYTHM_ALONE_OFF_BEAT
    return StageStep(record=rhythm, bpm=slower, said=(said,))


def _signing_off(
    record: PassageRecord, result: TakeResult, state: CoachState, numbers: CoachNumbers
) -> StageStep | None:
    """What follows a clean first take of the day at the target tempo; None after any other take."""
    if not is_clean_at_target(result, first_today=record.takes_today == 1, numbers=numbers):
        return None
    before = state.records.get(record.facts.name)
    if before is not None and Mark.SIGNED_OFF in before.marks:
        said = reasons.STILL_SIGNED_OFF
    elif Mark.SIGNED_OFF in record.marks:
        said = reasons.SIGNED_OFF
    elif is_too_short(result, numbers):
        said = reasons.too_short_to_sign_off(result.homes, numbers.mark_notes)
    else:
        said = _why_not_signed_off(record.sign_offs, result.wrong_notes, numbers)
    return StageStep(record=record, bpm=record.facts.target_bpm, said=(said,), offer=Offer.SIBLING)


def _why_not_signed_off(sign_offs: Sequence[SignOff], wrong: frozenset[int], numbers: CoachNumbers) -> Message:
    """What half a sign-off still lacks: the other half, or a night, or a note right, or at its home. `wrong` are the
    notes of the newest take that were wrong.
    """
    *earlier, newest = sign_offs
    on_other_days = [other for other in earlier if other.day != newest.day]
    apart = [other for other in on_other_days if are_apart(other, newest, numbers)]
    if apart:
        wrong_twice = any(wrong & other.wrong_notes for other in apart)
        return reasons.SAME_NOTE_TWICE if wrong_twice else reasons.SAME_NOTE_AWAY
    return reasons.ONCE_MORE_AFTER_A_NIGHT if on_other_days else reasons.ONCE_MORE_ANOTHER_DAY


def _fallen_back(record: PassageRecord) -> StageStep:
    """From the metronome back to the places; the second time an easier passage comes first."""
    again = record.fell_back
    record = replace(record, stage=Stage.PLACES, pulse=Pulse.FREE, tries=0, fell_back=again + 1)
    if again:
        return StageStep(record=record, bpm=None, said=(reasons.EASIER_AFTER_FALL,), offer=Offer.EASIER)
    return StageStep(record=record, bpm=None, said=(reasons.BACK_TO_PLACES,))
