"""The next tempo: the fastest that is predicted to hold the target share, in whole beats a minute.

It climbs in large steps while the estimate is far off and in small ones once it is close, comes down at
once when a take falls apart, and never rises against what the last takes show.
"""

from dataclasses import dataclass
from enum import Enum
from math import exp

from game.coach.certainty import wilson_upper
from game.coach.events import TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import PassageRecord, Tally
from game.coach.tempo.steady_tempo import Belief


class TempoReason(Enum):
    """What settled the next tempo."""

    HELD = "held"
    FELL_APART = "fell apart"
    STOPPED = "stopped"
    OUT_OF_TIME = "out of time"
    NOT_YET = "not yet"
    TOO_FAST = "too fast"
    TARGET = "target"
    NEW_DAY = "new day"
    SETTLING = "settling"


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTempo:
    """A tempo in the metre's own beat. `below_lowest`: what the player can hold is slower than a metronome
    is for.
    """

    bpm: int
    why: TempoReason
    below_lowest: bool = False


def tempo_after_take(
    record: PassageRecord, result: TakeResult, *, wish: float = 0.0, numbers: CoachNumbers = NUMBERS
) -> NextTempo:
    """The next tempo after a timed take that `record` has already taken in. `wish` is in log tempo."""
    played = round(result.tempo_bpm or numbers.lowest_bpm)
    steady = _fastest(record, wish, numbers)
    highest, why = _ceiling(record, result, played, numbers)
    bpm = min(steady, highest)
    if why in (TempoReason.HELD, TempoReason.NOT_YET) and bpm < played:
        why = TempoReason.TOO_FAST
    return NextTempo(
        bpm=max(bpm, numbers.lowest_bpm),
        why=why,
        below_lowest=bpm < numbers.lowest_bpm and played <= numbers.lowest_bpm,
    )


def tempo_on_new_day(
    record: PassageRecord, belief: Belief, *, wish: float = 0.0, numbers: CoachNumbers = NUMBERS
) -> NextTempo:
    """The day's first tempo: a little under the steady one, or the target once it has an even chance."""
    target = record.facts.target_bpm
    barred = no_rise(record, numbers)
    if target is not None and not barred and belief.chance_at_least(target) >= numbers.hold_chance:
        return NextTempo(bpm=max(target, numbers.lowest_bpm), why=TempoReason.TARGET)
    steady = _fastest(record, wish, numbers)
    bpm = int(steady * numbers.new_day_share)
    if record.last_bpm is not None:
        bpm = min(bpm, record.last_bpm if barred else int(record.last_bpm * (1 + numbers.far_step)))
    return NextTempo(
        bpm=max(bpm, numbers.lowest_bpm), why=TempoReason.NEW_DAY, below_lowest=steady < numbers.lowest_bpm
    )


def settling_tempo(record: PassageRecord, belief: Belief, numbers: CoachNumbers = NUMBERS) -> NextTempo:
    """The last take of the day: easy, and no faster than the last one."""
    bpm = int(belief.bpm * numbers.settling_share)
    if record.last_bpm is not None:
        bpm = min(bpm, record.last_bpm)
    return NextTempo(bpm=max(bpm, numbers.lowest_bpm), why=TempoReason.SETTLING)


def no_rise(record: PassageRecord, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the last takes forbid a faster one: not clean enough, stopped, or mostly beside the beat."""
    return surely_below(record.recent, numbers) or record.stopped > 0 or record.out_of_time > 0


def surely_below(recent: tuple[Tally, ...], numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the last takes together lie below the target share by more than their uncertainty."""
    asked = sum(tally.asked for tally in recent)
    right = sum(tally.right for tally in recent)
    return wilson_upper(right, asked, numbers.confidence_z) < numbers.target_share


def _fastest(record: PassageRecord, wish: float, numbers: CoachNumbers) -> int:
    """The fastest whole tempo predicted to hold, with the player's wish, within the bounds of practice."""
    belief = record.belief
    if belief is None:
        return numbers.lowest_bpm
    bpm = min(int(belief.quantile(1 - numbers.hold_chance) * exp(wish)), numbers.highest_bpm)
    target = record.facts.target_bpm
    return bpm if target is None else min(bpm, max(round(target * numbers.over_target), numbers.lowest_bpm))


def _ceiling(record: PassageRecord, result: TakeResult, played: int, numbers: CoachNumbers) -> tuple[int, TempoReason]:
    """The fastest tempo this take allows, whatever is believed, and why."""
    down = int(played * (1 - numbers.retreat))
    if result.share(result.right) < numbers.fell_apart_share:
        return down, TempoReason.FELL_APART
    if record.stopped >= numbers.stops_in_a_row:
        return down, TempoReason.STOPPED
    if not result.kept_going:
        return played, TempoReason.STOPPED
    if result.on_time_share < numbers.on_time_share:
        return played, TempoReason.OUT_OF_TIME
    if surely_below(record.recent, numbers):
        return played, TempoReason.NOT_YET
    close = record.belief is not None and record.belief.spread < numbers.close_spread
    step = numbers.close_step if close else numbers.far_step
    return int(played * (1 + step)), TempoReason.HELD
