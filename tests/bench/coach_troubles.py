"""Learners in trouble under the coach: a half-wrong take, a fall, bursts of inattention, curves of any form, slow ones.

Measured of the tempo that is asked for and of the estimate, beside each other, since a player meets the first and the
coach goes by the second. "In one sitting" no day ends; otherwise five takes are a day, with its settling take.
"""

from dataclasses import dataclass, field, replace
from itertools import pairwise
from math import exp, log
from random import Random
from statistics import mean

from game.coach.coach import advance
from game.coach.decisions import Offer
from game.coach.events import Overruled, PassageFacts, PassageOpened, TakeResult, Wish
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.records import CoachState
from game.coach.stages import Stage
from game.coach.tempo.like_passages import prior_for
from game.demo.learner import Learner
from tests.bench.coach_runs import timed, whole_run
from tests.bench.curves import Curve, smooth
from tests.bench.learners import NOTES, Honest

PASSAGE = PassageFacts(name="p")
DAILY = replace(NUMBERS, lowest_bpm=20)
SITTING = replace(DAILY, takes_a_day=9999)
START = (0.5, 0.95)
MOST = 20


@dataclass
class Troubled:
    """A player of one curve. From take `falls_at` on the steady tempo is `falls_to` of it; take `spoilt_at` is wrong
    from the middle on; a burst comes in a share `bursts` of takes, each a run of `burst` of the notes, nearly all of
    them wrong.
    `nights` is the spread of log tempo from day to day, `learns` the part of the log way to 1.4 that a take closes.
    """

    curve: Curve
    steady_bpm: float
    notes: int = 32
    falls_at: int = 0
    falls_to: float = 0.85
    spoilt_at: int = 0
    bursts: float = 0.0
    burst: tuple[float, float] = (0.5, 0.5)
    nights: float = 0.0
    learns: float = 0.0
    take: int = 0
    day: int = 1
    learned: float = 0.0
    mood: float = 0.0
    fallen: float = field(default=0.0)

    @property
    def now_bpm(self) -> float:
        return self.steady_bpm * exp(self.mood + self.fallen + log(1.4) * self.learned)

    def play(self, asked, day: int, rng: Random) -> TakeResult:
        self.take += 1
        if day > self.day:
            self.day, self.mood = day, rng.gauss(0, self.nights)
        if self.take == self.falls_at:
            self.fallen = log(self.falls_to)
        share = self.curve(log(asked.tempo_bpm / self.now_bpm))
        right = [rng.random() < share for _ in range(self.notes)]
        if self.take == self.spoilt_at:
            right = [n < self.notes // 2 for n in range(self.notes)]
        elif self.bursts and rng.random() < self.bursts:
            long = max(round(self.notes * rng.uniform(*self.burst)), 1)
            first = rng.randrange(self.notes - long + 1)
            right[first : first + long] = [rng.random() < 0.15 for _ in range(long)]
        self.learned += (1 - self.learned) * self.learns
        return TakeResult(
            passage=PASSAGE,
            day=day,
            stage=asked.stage,
            homes=self.notes,
            clean=sum(right),
            tempo_bpm=asked.tempo_bpm,
            wrong_notes=frozenset(n for n, is_right in enumerate(right, start=1) if not is_right),
            sighting=self.take,
            settling=asked.settling,
        )


@dataclass(frozen=True)
class Met:
    """One take: the tempo asked for, the estimate after it, the truth in it, its share, whether it settled the day."""

    asked_bpm: int
    estimate_bpm: float
    truth_bpm: float
    share: float
    settling: bool


def met(player: Troubled, start_bpm: float, takes: int, rng: Random, numbers: CoachNumbers) -> list[Met]:
    """A player who sets the metronome going and, wherever the coach leads, comes back to it."""
    wish = Overruled(passage=PASSAGE, day=1, wish=Wish.METRONOME_NOW, tempo_bpm=round(start_bpm))
    state, asked = advance(CoachState(), wish, numbers)
    day, taken = 1, []
    while len(taken) < takes:
        if asked.offer is not Offer.AGAIN:
            day += 1
            state, asked = advance(state, PassageOpened(passage=PASSAGE, day=day), numbers)
        if asked.stage is not Stage.TIME or asked.tempo_bpm is None:
            again = Overruled(passage=PASSAGE, day=day, wish=Wish.METRONOME_NOW)
            state, asked = advance(state, again, numbers)
        bpm, settling = asked.tempo_bpm, asked.settling
        result = player.play(asked, day, rng)
        state, asked = advance(state, result, numbers)
        belief = state.records["p"].belief
        taken.append(Met(bpm, belief.bpm, player.now_bpm, result.right / result.homes, settling))
    return taken


def drawn(rng: Random, form=smooth) -> tuple[Curve, float, float]:
    """A curve, a steady tempo and where its player starts."""
    curve, steady = form(rng), exp(rng.uniform(log(50), log(200)))
    return curve, steady, steady * rng.uniform(*START)


def first(values, is_so, most: int = MOST, begin: int = 1) -> int:
    return next((count for count, value in enumerate(values, begin) if is_so(value)), most)


def to_come_near(form, notes: int, n: int, seed: int = 1) -> tuple[float, float, float]:
    """Mean takes until within 5 %: the estimate, the tempo asked for, and a staircase of 25 % steps that shrink by 0.6
    at each reversal, with the same learners from the same start. Each is looked at before the first take, too: the
    coach has an estimate from the first tempo on, as the staircase has its tempo.
    """
    rows = []
    for number in range(n):
        rng = Random(seed * 1_000_000 + number)
        curve, steady, start = drawn(rng, form)
        taken = met(Troubled(curve, steady, notes), start, 16, rng, SITTING)
        guess = prior_for(PASSAGE, (), round(start), SITTING).bpm
        near = [abs(bpm / steady - 1) <= 0.05 for bpm in (guess, *(one.estimate_bpm for one in taken))]
        asked = [abs(one.asked_bpm / steady - 1) <= 0.05 for one in taken]
        stairs = shrinking_staircase(curve, log(start / steady), notes, rng)
        rows.append((first(near, bool, 16, begin=0), first(asked, bool, 16, begin=0), stairs))
    return tuple(mean(column) for column in zip(*rows, strict=True))


def shrinking_staircase(curve: Curve, level: float, notes: int, rng: Random, most: int = 40) -> int:
    """Takes until its own tempo is within 5 %: up after a take of 0.90 or more, else down."""
    size, last = log(1.25), 0
    for take in range(most):
        if abs(exp(level) - 1) <= 0.05:
            return take
        way = 1 if sum(rng.random() < curve(level) for _ in range(notes)) / notes >= 0.9 else -1
        size *= 0.6 if last and way != last else 1.0
        last, level = way, level + way * size
    return most


def after_spoilt(notes: int, n: int, numbers: CoachNumbers = SITTING, at: int = 25, seed: int = 2):
    """Takes after a half-wrong one until the tempo asked for, and the estimate, are within 5 % again of the lower of
    the steady tempo and what stood before.
    """
    rows = []
    for number in range(n):
        rng = Random(seed * 1_000_000 + number)
        curve, steady, start = drawn(rng)
        taken = met(Troubled(curve, steady, notes, spoilt_at=at), start, at + MOST, rng, numbers)
        asked_least = 0.95 * min(taken[at - 1].asked_bpm, steady)
        believed_least = 0.95 * min(taken[at - 2].estimate_bpm, steady)
        asked = first([one.asked_bpm >= asked_least for one in taken[at:]], bool)
        believed = first([one.estimate_bpm >= believed_least for one in taken[at - 1 :]], bool, begin=0)
        rows.append((asked, believed))
    return list(zip(*rows, strict=True))


def after_a_fall(notes: int, n: int, numbers: CoachNumbers = SITTING, at: int = 25, seed: int = 3):
    """Takes, the first one after the fall counted, until tempo and estimate are no more than 5 % over what is true."""
    rows = []
    for number in range(n):
        rng = Random(seed * 1_000_000 + number)
        curve, steady, start = drawn(rng)
        taken = met(Troubled(curve, steady, notes, falls_at=at), start, at + MOST, rng, numbers)
        asked = first(taken[at:], lambda one: one.asked_bpm <= 1.05 * one.truth_bpm)
        rows.append((asked, first(taken[at - 1 :], lambda one: one.estimate_bpm <= 1.05 * one.truth_bpm)))
    return list(zip(*rows, strict=True))


def slow_weeks(limit_bpm: float, finds: float, n: int, days: int = 14, notes: int = NOTES) -> tuple[int, float, float]:
    """Of `n` players with this limit who begin with the places: how many end with the metronome, how often they were
    sent from one stage or pulse to another (there and on are four), and the share of their timed takes that hold 0.80.
    `finds` is the time to find a note, in usual notes at the limit.
    """
    ended, sent, held = 0, [], []
    for number in range(n):
        learner = Learner(steady_bpm=limit_bpm, find_s=finds * 60 / limit_bpm)
        player = Honest(learner, PASSAGE, notes=notes)
        taken, state = whole_run(player, days=tuple(range(1, days + 1)), rng=Random(number))
        ways = [(one.asked.stage, one.asked.pulse) for one in taken]
        ended += state.records["p"].climbing
        sent.append(sum(before != after for before, after in pairwise(ways)))
        held += [one.result.share(one.result.right) >= 0.8 for one in timed(taken)]
    return ended, mean(sent), mean(held or [0.0])


def share_under(notes: int, n: int, burst: tuple[float, float], numbers: CoachNumbers, *, bursts=0.12, seed=4) -> float:
    """Of the takes from the eleventh to the sixtieth, settling ones apart, how many lie over 12 % under the truth."""
    under = []
    for number in range(n):
        rng = Random(seed * 1_000_000 + number)
        curve, steady, start = drawn(rng)
        player = Troubled(curve, steady, notes, bursts=bursts, burst=burst)
        under += [
            one.asked_bpm < 0.88 * steady for one in met(player, start, 60, rng, numbers)[10:] if not one.settling
        ]
    return mean(under)
