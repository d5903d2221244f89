"""How still an input is while nobody plays: the noise that is always there, and what of it is mains hum. Pure."""

from dataclasses import dataclass, replace
from statistics import median
from typing import Final

QUIET_S: Final = 2.0
"""So long nobody plays."""

LEAST_FLOOR_DB, MOST_FLOOR_DB = -70.0, -40.0
"""Between these is what no note is under, whatever was measured: a digital input may give nothing at all, and in a room
that is louder no guitar is heard well.
"""

LOUD_DB: Final = -45.0
"""From here on the room is loud, against full scale (ours: a guitar played softly is at about -40)."""

# A note is at least so much louder than the noise (ours).
_ABOVE_NOISE_DB: Final = 8.0
# Whoever plays, or speaks, is that much louder than it was so far.
_DISTURBS_DB: Final = 15.0
_SILENCE_DB: Final = -90.0
# A cable that is not plugged in well hums far above its noise.
_HUMS_FROM_DB, _HUM_SHARE = -62.0, 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class NoiseFloor:
    """What was measured, in dB against full scale: the noise, and the mains hum in it."""

    rms_db: float
    hum_db: float

    @property
    def floor_db(self) -> float:
        """The power under which nothing is a note."""
        return min(max(self.rms_db + _ABOVE_NOISE_DB, LEAST_FLOOR_DB), MOST_FLOOR_DB)

    @property
    def loud(self) -> bool:
        """Whether soft notes drown in it."""
        return self.rms_db > LOUD_DB

    @property
    def hum_share(self) -> float:
        """How much of its power is mains hum, 0 to 1."""
        return min(1.0, 10 ** ((self.hum_db - self.rms_db) / 10))

    @property
    def hums(self) -> bool:
        """Whether the hum is worth a word: most of the noise, and loud enough to be heard."""
        return self.hum_db > _HUMS_FROM_DB and self.hum_share > _HUM_SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class QuietCheck:
    """The still seconds so far. `levels` are pairs of power and hum; `disturbed` where a sound began it anew."""

    since_s: float | None = None
    levels: tuple[tuple[float, float], ...] = ()
    disturbed: bool = False

    def lasted_s(self, now_s: float) -> float:
        """How long it has been quiet."""
        return 0.0 if self.since_s is None else now_s - self.since_s

    def found(self, now_s: float) -> NoiseFloor | None:
        """What was measured, once it was quiet for long enough."""
        if self.lasted_s(now_s) < QUIET_S or not self.levels:
            return None
        return NoiseFloor(
            rms_db=median(rms_db for rms_db, _ in self.levels), hum_db=median(hum_db for _, hum_db in self.levels)
        )


def hear_quiet(check: QuietCheck, *, at_s: float, rms_db: float, hum_db: float) -> QuietCheck:
    """Take in how loud it is. A sound in between begins it anew; where it is the beginning that was loud, that is left
    behind as soon as it is quieter.
    """
    here = rms_db, hum_db
    if check.since_s is None:
        return replace(check, since_s=at_s, levels=(here,))
    usual = max(median(level for level, _ in check.levels), _SILENCE_DB)
    if abs(max(rms_db, _SILENCE_DB) - usual) > _DISTURBS_DB:
        return QuietCheck(since_s=at_s, levels=(here,), disturbed=True)
    return replace(check, levels=(*check.levels, here))
