"""The next tempo: the fastest that is predicted to hold the target share, in whole beats a minute.

It climbs in large steps while the estimate is far off and in small ones once it is close, comes down at
once when a take falls apart, rises after a clean take only, and never against what the last takes show.
"""

from dataclasses import dataclass
from enum import Enum
from math import exp

from game.coach.certainty import wilson_upper
from game.coach.events import PassageFacts, TakeResult
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import PassageRecord, Tally
from game.coach.tempo.belief import Belief
from game.coach.tempo.clean_takes import is_beside_the_beat, is_right_enough, is_timely_enough
from game.coach.tempo.steady_tempo import chance_at_least, quantile


class TempoReason(Enum):
    """What settled the next tempo."""

    HELD = "held"
    FELL_APART = "fell apart"
    STOPPED = "stopped"
    BEGAN_AGAIN = "began again"
    OUT_OF_TIME = "out of time"
    TIMING = "timing"
    TIMING_LOWEST = "timing lowest"
    NOT_CLEAN = "not clean"
    NOT_YET = "not yet"
    TOO_FAST = "too fast"
    WISHED = "wished"
    OVER_TARGET = "over target"
    LOWEST = "lowest"
    TARGET = "target"
    NEW_DAY = "new day"
    NEAR_TARGET = "near target"
    AS_LAST_TIME = "as last time"
    STEP_ON = "step on"
    SETTLING = "settling"


_NO_WAY_DOWN = frozenset(
    (TempoReason.HELD, TempoReason.NOT_CLEAN, TempoReason.NOT_YET, TempoReason.TIMING, TempoReason.OUT_OF_TIME)
)
"""What keeps a tempo from rising and does not lower it: where it comes down, that has another reason."""

_AT_LOWEST = {
    TempoReason.TOO_FAST: TempoReason.LOWEST,
    TempoReason.WISHED: TempoReason.LOWEST,
    TempoReason.OVER_TARGET: TempoReason.LOWEST,
    TempoReason.TIMING: TempoReason.TIMING_LOWEST,
}
"""At the slowest click nothing comes slower: that is then said instead."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTempo:
    """A tempo in the metre's own beat. `below_lowest`: the slowest click was played, and what the player can hold is
    most likely slower still.
    """

    bpm: int
    why: TempoReason
    below_lowest: bool = False


def tempo_after_take(
    record: PassageRecord, result: TakeResult, *, wish: float = 0.0, numbers: CoachNumbers = NUMBERS
) -> NextTempo:
    """The next tempo after a timed take that `record` has already taken in. `wish` is in log tempo."""
    played = round(result.tempo_bpm or numbers.lowest_bpm)
    highest, why = _ceiling(record, result, played, numbers)
    bpm = min(_fastest(record, wish, numbers), highest)
    if why in _NO_WAY_DOWN and bpm < min(played, highest):
        why = _why_slower(record, played, numbers)
    if bpm <= numbers.lowest_bpm and played <= numbers.lowest_bpm:
        why = _AT_LOWEST.get(why, why)
    return NextTempo(
        bpm=max(bpm, numbers.lowest_bpm),
        why=why,
        below_lowest=played <= numbers.lowest_bpm and _is_below_lowest(record, result, numbers),
    )


def _why_slower(record: PassageRecord, played: int, numbers: CoachNumbers) -> TempoReason:
    """Why less than the tempo played is asked for: what is believed, the player's target, or their wish."""
    if _believed(record, 0.0, numbers) < played:
        return TempoReason.TOO_FAST
    return TempoReason.WISHED if _fastest(record, 0.0, numbers) >= played else TempoReason.OVER_TARGET


def tempo_on_new_day(
    record: PassageRecord, belief: Belief, *, wish: float = 0.0, numbers: CoachNumbers = NUMBERS
) -> NextTempo:
    """The day's first tempo: a little under the steady one, or the target once it has an even chance."""
    target = record.facts.target_bpm
    barred = no_rise(record, numbers)
    if target is not None and not barred and chance_at_least(belief, target) >= numbers.hold_chance:
        bpm = max(target, numbers.lowest_bpm)
        return NextTempo(bpm=bpm, why=TempoReason.TARGET if bpm == target else TempoReason.LOWEST)
    steady = _fastest(record, wish, numbers)
    why = TempoReason.NEW_DAY if steady == _believed(record, wish, numbers) else TempoReason.NEAR_TARGET
    bpm = min(int(steady * numbers.new_day_share), int(belief.bpm))
    if record.last_bpm is not None:
        most, said = _most_on_new_day(record, belief, record.last_bpm, barred=barred, numbers=numbers)
        bpm, why = (bpm, why) if bpm <= most else (most, said)
    if bpm < numbers.lowest_bpm:
        bpm, why = numbers.lowest_bpm, TempoReason.LOWEST
    return NextTempo(bpm=bpm, why=why)


def _most_on_new_day(
    record: PassageRecord, belief: Belief, last_bpm: int, *, barred: bool, numbers: CoachNumbers
) -> tuple[int, TempoReason]:
    """The fastest a day may begin: no faster than was held where the last takes lacked something, and a step on from
    the last where little is known. Where the steady tempo is known it alone decides.
    """
    if barred:
        return most_while_barred(record, last_bpm, numbers), TempoReason.AS_LAST_TIME
    if belief.spread <= numbers.known_spread:
        return numbers.highest_bpm, TempoReason.NEW_DAY
    return int(max(last_bpm, record.held_bpm or 0) * (1 + numbers.far_step)), TempoReason.STEP_ON


def most_while_barred(record: PassageRecord, last_bpm: int, numbers: CoachNumbers = NUMBERS) -> int:
    """The fastest a passage is taken up again where the last takes lacked something: the tempo of the last where it was
    notes; where it was the time, or a stop, what was held before is not forgotten.
    """
    return last_bpm if surely_below(record.recent, numbers) else max(record.held_bpm or last_bpm, last_bpm)


def settling_tempo(
    record: PassageRecord, belief: Belief, numbers: CoachNumbers = NUMBERS, *, most_bpm: int | None = None
) -> NextTempo:
    """The last take of the day: easy, no faster than the last one, nor than `most_bpm`, which the last take allows: a
    take that fell apart is followed by a slower one at the end of a day, too.
    """
    bpms = (int(belief.bpm * numbers.settling_share), record.last_bpm, most_bpm)
    bpm = min(bpm for bpm in bpms if bpm is not None)
    return NextTempo(bpm=max(bpm, numbers.lowest_bpm), why=TempoReason.SETTLING)


def no_rise(record: PassageRecord, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the last takes forbid a faster one: not clean enough, stopped, or short of time."""
    return surely_below(record.recent, numbers) or record.stopped > 0 or record.out_of_time > 0


def surely_below(recent: tuple[Tally, ...], numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether the last takes together lie below the target share by more than their uncertainty."""
    asked = sum(tally.asked for tally in recent)
    right = sum(tally.right for tally in recent)
    return wilson_upper(right, asked, numbers.confidence_z) < numbers.target_share


def _is_below_lowest(record: PassageRecord, result: TakeResult, numbers: CoachNumbers) -> bool:
    """Whether the player's limit is almost surely under the lowest tempo; after a take with hardly a note right, most
    likely. Of those whose limit it is half are believed under it, and after a bad take far more.
    """
    if record.belief is None:
        return False
    hopeless = result.share(result.right) < numbers.hopeless_share
    least = numbers.hold_chance if hopeless else numbers.give_up_chance
    return chance_at_least(record.belief, numbers.lowest_bpm) < least


def _believed(record: PassageRecord, wish: float, numbers: CoachNumbers) -> int:
    """The fastest whole tempo predicted to hold, with the player's wish."""
    if record.belief is None:
        return numbers.lowest_bpm
    return min(int(quantile(record.belief, 1 - numbers.hold_chance) * exp(wish)), numbers.highest_bpm)


def _fastest(record: PassageRecord, wish: float, numbers: CoachNumbers) -> int:
    """What is believed, within the bounds of practice."""
    return min(_believed(record, wish, numbers), fastest_practised(record.facts, numbers))


def fastest_practised(passage: PassageFacts, numbers: CoachNumbers = NUMBERS) -> int:
    """How fast a passage is practised at most: a little over the player's target where there is one."""
    if passage.target_bpm is None:
        return numbers.highest_bpm
    return max(round(passage.target_bpm * numbers.over_target), numbers.lowest_bpm)


def _ceiling(record: PassageRecord, result: TakeResult, played: int, numbers: CoachNumbers) -> tuple[int, TempoReason]:
    """The fastest tempo this take allows, whatever is believed, and why."""
    down = int(played * (1 - numbers.retreat))
    if result.share(result.right) < numbers.fell_apart_share:
        return down, TempoReason.FELL_APART
    if not result.kept_going:
        stopped = result.stops or result.unread
        why = TempoReason.STOPPED if stopped else TempoReason.BEGAN_AGAIN
        return (down if record.stopped >= numbers.stops_in_a_row else played), why
    if not is_right_enough(result, numbers):
        return played, TempoReason.NOT_CLEAN
    if not is_timely_enough(result, numbers):
        why = TempoReason.OUT_OF_TIME if is_beside_the_beat(result, numbers) else TempoReason.TIMING
        return (down if record.out_of_time >= numbers.off_time_in_a_row else played), why
    if surely_below(record.recent, numbers):
        return played, TempoReason.NOT_YET
    close = record.belief is not None and record.belief.spread < numbers.close_spread
    step = numbers.close_step if close else numbers.far_step
    return int(played * (1 + step)), TempoReason.HELD
