"""What a student needs of their teacher this week, the first that holds. Pure."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import Enum
from statistics import fmean

from game.coach.marks import Mark
from game.coach.stages import Stage

WEEK_DAYS = 7
"""It ends with today."""

STUCK_TAKES, STUCK_DAYS, STUCK_GAIN = 10, 3, 0.05
"""So many takes, on so many days or more, without a mark and without so much of a gain, mean that somebody is stuck."""

_FURTHER = (Stage.LETTERS.value, Stage.PLACES.value, Stage.RHYTHM.value, Stage.TIME.value)


class Need(Enum):
    """Why a student is to be looked at, the most urgent first."""

    ABSENT = "absent"
    OVERDUE = "overdue"
    STUCK = "stuck"
    FINE = "fine"


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageTake:
    """A take of a passage. `notes` were asked, `clean` of them right, `in_time` of these in time; `tempo_bpm` is None
    without a click.
    """

    day: date
    stage: str
    pulse: str
    tempo_bpm: float | None
    notes: int
    clean: int
    in_time: int

    @property
    def reached(self) -> float:
        """What is to grow: against the click the tempo, by the share that was right and in time at it; else the share
        that was right.
        """
        if not self.notes:
            return 0.0
        if self.tempo_bpm is None or self.stage == Stage.RHYTHM.value:
            return self.clean / self.notes
        return self.tempo_bpm * min(self.clean, self.in_time) / self.notes

    @property
    def asks(self) -> tuple[int, bool]:
        """How far the stage is that was played; only takes of the same one can be compared."""
        return (_FURTHER.index(self.stage) if self.stage in _FURTHER else -1, self.tempo_bpm is not None)


def need_of(last_day: date | None, today: date, *, overdue: bool, stuck: bool) -> Need:
    """The first that holds. `last_day` is the last day with a take up to today, None where there is none."""
    if last_day is None or last_day <= today - timedelta(days=WEEK_DAYS):
        return Need.ABSENT
    if overdue:
        return Need.OVERDUE
    return Need.STUCK if stuck else Need.FINE


def is_overdue(due: date | None, done: date | None, today: date) -> bool:
    """Whether a part that was set is undone past its day."""
    return due is not None and today > due and (done is None or done > today)


def is_stuck(takes: Sequence[PassageTake], marks: Iterable[tuple[str, date]]) -> bool:
    """Whether a passage does not get on: its last takes, oldest first, lie on three days or more, none of them earned a
    mark, and what the later half reached in the mean is not 5 % above the half before. Going on to a further stage is a
    gain; what is signed off is done.
    """
    last = takes[-STUCK_TAKES:]
    earned = list(marks)
    if len(last) < STUCK_TAKES or len({take.day for take in last}) < STUCK_DAYS:
        return False
    if any(mark == Mark.SIGNED_OFF.value or day >= last[0].day for mark, day in earned):
        return False
    before, after = last[: STUCK_TAKES // 2], last[STUCK_TAKES // 2 :]
    if max(take.asks for take in after) > max(take.asks for take in before):
        return False
    alike = {take.asks for take in before} & {take.asks for take in after}
    if not alike:
        return True
    furthest = max(alike)
    then, now = (fmean(take.reached for take in half if take.asks == furthest) for half in (before, after))
    return now < (1 + STUCK_GAIN) * then or not now
