"""What the days of practice came to on each map: how much was right at first sight at the pace of a fluent map, and how
long notes took to be found. A fold over takes: `map_days_after`. What follows from it: `fluent_map`, `mixed_maps`.
"""

from collections.abc import Iterable, Mapping
from statistics import median
from typing import NamedTuple

from game.coach.numbers import NUMBERS, CoachNumbers


class MapDay(NamedTuple):
    """A day on one map. `asked` and `right` count the notes of music met for the first time and played in time, in
    eighths at the pace of the table or faster; `placed` tells whether the instrument told their places. `found` counts
    the notes whose finding was timed, `log_s` and `squares` are the sums of the natural logarithms of their seconds,
    and of the squares of those.
    """

    day: int
    asked: int = 0
    right: int = 0
    placed: bool = True
    found: int = 0
    log_s: float = 0.0
    squares: float = 0.0

    def plus(self, other: "MapDay") -> "MapDay":
        """Both as one, under the day of this one."""
        told = [one.placed for one in (self, other) if one.asked]
        return MapDay(
            day=self.day,
            asked=self.asked + other.asked,
            right=self.right + other.right,
            placed=all(told),
            found=self.found + other.found,
            log_s=self.log_s + other.log_s,
            squares=self.squares + other.squares,
        )


MapDays = Mapping[str, tuple[MapDay, ...]]
"""By the text of a map (`map_key`), its days, the oldest first."""


class PacedNote(NamedTuple):
    """A note of a take in time: how many quarter notes after the one before it is written, how many ms after the answer
    before it was answered (None where it was not), and whether it was right. Of the first note both are None.
    """

    gap_quarters: float | None
    since_ms: float | None
    right: bool


def is_at_pace(notes: Iterable[PacedNote], numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a take was eighths at the pace of a fluent map or faster: enough of its notes are written an eighth or
    less after the one before, and the quarter notes of the player, by what was right, went as fast.

    By the answers, not by the click: so takes in free time count too.
    """
    both = [(note.gap_quarters, note) for note in notes if note.gap_quarters]
    short = sum(gap <= _EIGHTH for gap, _ in both)
    if not both or short < numbers.fluent_eighths_share * len(both):
        return False
    paces = [60_000 * gap / note.since_ms for gap, note in both if note.right and note.since_ms and note.since_ms > 0]
    return bool(paces) and median(paces) >= numbers.fluent_bpm * (1 - numbers.fluent_pace_slack)


_EIGHTH = 0.5


def map_days_after(days: MapDays, key: str, day: MapDay, numbers: CoachNumbers = NUMBERS) -> MapDays:
    """The days with what one more take on the map of that text came to."""
    if not (day.asked or day.found):
        return days
    before = days.get(key, ())
    if before and before[-1].day >= day.day:
        *earlier, last = before
        return {**days, key: (*earlier, last.plus(day))}
    return {**days, key: (*before, day)[-numbers.map_days_kept :]}
