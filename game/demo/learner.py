"""A simulated player who learns: for the demo, the bench and the tests. Pure; chance is a `random.Random`
passed in.

How many notes come right is a psychometric function of log tempo with lapses. Practice moves the tempo
towards a ceiling exponentially (Heathcote et al. 2000: exponential beats power law for single learners); a
day's takes tire; days off undo part of what was learned. Timing has a steady bias and a spread (Repp
2005, from memory: tapping runs early). Tempi are in the metre's own beat. The figures of a learner are invented;
nothing is claimed about real players.
"""

from dataclasses import dataclass, replace
from enum import Enum
from math import exp, log
from random import Random
from statistics import NormalDist

_NORMAL = NormalDist()


class AccuracyCurve(Enum):
    """How accuracy falls with log tempo. All pass the target share at the steady tempo with the same slope
    there.
    """

    LOGISTIC = "logistic"
    NORMAL = "normal"
    GUMBEL = "gumbel"


@dataclass(frozen=True, slots=True, kw_only=True)
class Learner:
    """Who plays, and how far they have come with one passage.

    `steady_bpm` is where the share of right pitches is `target_share` when rested; `ceiling_bpm` where
    practice leads (None: no learning). `slope` is that of the logit of a logistic curve over the natural
    log of tempo, `lapse` the chance of a mistake at any tempo. `learning` is the part of the log distance
    to the ceiling a take closes, `fatigue` the log tempo a take costs until the next day, `forgetting` the
    part of what was learned that a day off undoes. `bias_ms` and `spread_ms` are those of the onsets
    (negative is early), `find_s` the median time to find a note without a clock, `find_spread` its
    log-normal spread, `free_wrong` the chance of a wrong note without a clock.
    """

    steady_bpm: float
    ceiling_bpm: float | None = None
    slope: float = 9.0
    lapse: float = 0.01
    target_share: float = 0.90
    curve: AccuracyCurve = AccuracyCurve.LOGISTIC
    learning: float = 0.0
    fatigue: float = 0.0
    forgetting: float = 0.0
    bias_ms: float = 0.0
    spread_ms: float = 20.0
    find_s: float = 0.8
    find_spread: float = 0.35
    free_wrong: float = 0.02
    learned: float = 0.0
    tired: float = 0.0
    day: int = 0

    @property
    def steady_now_bpm(self) -> float:
        """The steady tempo as things stand: learned and tired."""
        climb = log(self.ceiling_bpm / self.steady_bpm) if self.ceiling_bpm else 0.0
        return self.steady_bpm * exp(climb * self.learned - self.tired)


@dataclass(frozen=True, slots=True, kw_only=True)
class AnsweredNote:
    """What became of one note. `offset_ms` is None without a clock, `find_s` None with one."""

    right: bool
    offset_ms: float | None = None
    find_s: float | None = None


def accuracy(learner: Learner, bpm: float) -> float:
    """The chance that a note is right at `bpm`."""
    reach = 1 - learner.lapse
    hold = learner.target_share / reach
    # The slope of the whole share at the steady tempo is the same for every curve.
    at_steady = learner.slope * hold * (1 - hold)
    x = log(bpm / learner.steady_now_bpm)
    match learner.curve:
        case AccuracyCurve.LOGISTIC:
            return reach / (1 + exp(learner.slope * x - log(hold / (1 - hold))))
        case AccuracyCurve.GUMBEL:
            rate = at_steady / (-log(hold) * hold)
            return reach * exp(log(hold) * exp(rate * x))
        case AccuracyCurve.NORMAL:
            z = _NORMAL.inv_cdf(hold)
            return reach * _NORMAL.cdf(z - x * at_steady / _NORMAL.pdf(z))


def answers(learner: Learner, notes: int, bpm: float | None, rng: Random) -> tuple[AnsweredNote, ...]:
    """One take of so many notes, with the metronome at `bpm` or without (None)."""
    if bpm is None:
        return tuple(
            AnsweredNote(
                right=rng.random() >= learner.free_wrong,
                find_s=learner.find_s * exp(rng.gauss(0, learner.find_spread)),
            )
            for _ in range(notes)
        )
    share = accuracy(learner, bpm)
    return tuple(
        AnsweredNote(right=rng.random() < share, offset_ms=rng.gauss(learner.bias_ms, learner.spread_ms))
        for _ in range(notes)
    )


def practised(learner: Learner) -> Learner:
    """The learner after one take."""
    return replace(
        learner,
        learned=learner.learned + (1 - learner.learned) * learner.learning,
        tired=learner.tired + learner.fatigue,
    )


def on_day(learner: Learner, day: int) -> Learner:
    """The learner rested, on a later day; each day off between undoes part of what was learned."""
    days_off = max(day - learner.day - 1, 0)
    if day <= learner.day:
        return learner
    kept = (1 - learner.forgetting) ** days_off
    return replace(learner, day=day, tired=0.0, learned=learner.learned * kept)
