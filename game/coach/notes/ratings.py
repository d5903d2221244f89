"""From a day's practice to one rating: again, hard, good or easy. The table is ours (`game.coach.numbers`)."""

from math import exp
from typing import NamedTuple

from fsrs import Rating

from game.coach.events import TakeResult
from game.coach.mark_rules import is_clean_for_sign_off
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.stages import Pulse, Stage


class DayOfItem(NamedTuple):
    """A day's readings of one note: how many, how many of them right, and of those that were timed their number and the
    sum of the natural logarithms of their seconds.
    """

    readings: int = 0
    right: int = 0
    timed: int = 0
    sum_log_s: float = 0.0

    def plus(self, *, right: bool, log_find_s: float | None) -> "DayOfItem":
        """One more reading."""
        readings, rights, timed, sum_log_s = self
        if log_find_s is None:
            return DayOfItem(readings + 1, rights + right, timed, sum_log_s)
        return DayOfItem(readings + 1, rights + right, timed + 1, sum_log_s + log_find_s)

    @property
    def find_s(self) -> float | None:
        """The day's usual (geometric mean) time to find it, None where it was never timed."""
        return exp(self.sum_log_s / self.timed) if self.timed else None


def note_rating(day: DayOfItem, numbers: CoachNumbers = NUMBERS) -> Rating:
    """What a day's readings of a note are worth. Raises `ValueError` where there were none."""
    if not day.readings:
        raise ValueError("a note that was not read has no rating")
    find_s = day.find_s
    if day.right <= numbers.failed_share * day.readings:
        return Rating.Again
    if day.right < day.readings or (find_s is not None and find_s > numbers.slow_find_s):
        return Rating.Hard
    if find_s is not None and find_s < numbers.quick_find_s and day.readings >= numbers.easy_readings:
        return Rating.Easy
    return Rating.Good


def passage_rating(result: TakeResult, numbers: CoachNumbers = NUMBERS) -> Rating | None:
    """What the first timed take of the day of a signed-off passage is worth; None for any other take, and for a passage
    without a target.
    """
    target = result.passage.target_bpm
    if target is None or result.stage is not Stage.TIME or result.pulse is not Pulse.METRONOME or not result.homes:
        return None
    tempo = (result.tempo_bpm or 0.0) / target
    if result.kept_going and tempo >= 1 and is_clean_for_sign_off(result, numbers):
        easy = result.in_time == result.homes and tempo >= numbers.easy_over_target
        return Rating.Easy if easy else Rating.Good
    clean = result.share(result.in_time) >= numbers.target_share
    return Rating.Hard if clean or tempo >= numbers.hard_tempo_share else Rating.Again
