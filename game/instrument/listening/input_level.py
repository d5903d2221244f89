"""Whether what is played comes in loud enough, and not too loud. Pure. All levels are dB against full scale."""

from dataclasses import dataclass, replace
from enum import Enum
from typing import Final

ENOUGH_S: Final = 2.5
"""So long somebody has played, at a good level, before it is taken for settled."""

TOO_QUIET_DB: Final = -32.0
"""Peaks below it are too soft: of a line whose plucks reach -30 everything is heard, of one 12 dB softer a third."""

CLOSE_TO_FULL_DB: Final = -1.0
_LOOKS_BACK_S: Final = 2.0
_PLAYS_ABOVE_FLOOR_DB: Final = 8.0
_LONGEST_STEP_S: Final = 0.25
METER_DB: Final = (-60.0, 0.0)
"""The ends of a meter."""


class LevelWord(Enum):
    """How a level is. The values are names in the text catalogue."""

    NOTHING = "nothing"
    TOO_QUIET = "too_quiet"
    GOOD = "good"
    TOO_LOUD = "too_loud"


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelCheck:
    """The level so far. `peaks` are those of the last two seconds with their times; `clipped` counts samples at full
    scale since the input was opened, and `clipped_s` is when one came last; `good_s` how long it has been good.
    """

    floor_db: float
    peaks: tuple[tuple[float, float], ...] = ()
    clipped: int | None = None
    clipped_s: float | None = None
    good_s: float = 0.0

    @property
    def peak_db(self) -> float:
        """The loudest of late."""
        return max((peak_db for _, peak_db in self.peaks), default=-120.0)

    def word(self, now_s: float) -> LevelWord:
        """How it is."""
        if self.clipped_s is not None and now_s - self.clipped_s < _LOOKS_BACK_S:
            return LevelWord.TOO_LOUD
        if self.peak_db < self.floor_db + _PLAYS_ABOVE_FLOOR_DB:
            return LevelWord.NOTHING
        if self.peak_db < TOO_QUIET_DB:
            return LevelWord.TOO_QUIET
        return LevelWord.GOOD

    @property
    def done(self) -> bool:
        """Whether enough was played at a good level."""
        return self.good_s >= ENOUGH_S


def hear_level(check: LevelCheck, *, at_s: float, peak_db: float, clipped: int) -> LevelCheck:
    """Take in how loud it is. Once it was too loud, the good time is counted anew."""
    before_s = check.peaks[-1][0] if check.peaks else at_s
    peaks = (*((then_s, peak) for then_s, peak in check.peaks if at_s - then_s < _LOOKS_BACK_S), (at_s, peak_db))
    # A count that is lower than before is that of an input that was opened again.
    clips = (check.clipped is not None and clipped > check.clipped) or peak_db >= CLOSE_TO_FULL_DB
    check = replace(check, peaks=peaks, clipped=clipped, clipped_s=at_s if clips else check.clipped_s)
    word = check.word(at_s)
    if word is LevelWord.TOO_LOUD:
        return replace(check, good_s=0.0)
    went_s = min(_LONGEST_STEP_S, max(0.0, at_s - before_s)) if word is LevelWord.GOOD else 0.0
    return replace(check, good_s=check.good_s + went_s)


def on_meter(level_db: float) -> float:
    """How far up a meter a level stands, 0 to 1."""
    low, high = METER_DB
    return min(1.0, max(0.0, (level_db - low) / (high - low)))
