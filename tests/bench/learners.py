"""Simulated players for the coach: honest ones who learn, and hostile ones. Fixed seeds, same takes."""

from dataclasses import dataclass, replace
from math import exp, log
from random import Random

from game.coach.decisions import Decision
from game.coach.events import PassageFacts, TakeResult
from game.coach.stages import Pulse, Stage
from game.demo.learner import AccuracyCurve, Learner, accuracy, answers, on_day, practised

NOTES = 32
TOLERANCE_MS = 100.0


@dataclass
class Honest:
    """Plays as the psychometric function says."""

    learner: Learner
    passage: PassageFacts
    notes: int = NOTES
    sighting: int = 0

    def play(self, asked: Decision, day: int, rng: Random) -> TakeResult:
        self.learner = on_day(self.learner, day)
        self.sighting += 1
        played = answers(self.learner, self.notes, asked.tempo_bpm, rng)
        self.learner = practised(self.learner)
        return self.judged(asked, day, played)

    def judged(self, asked, day, played) -> TakeResult:
        right = [answer for answer in played if answer.right]
        return TakeResult(
            passage=self.passage,
            day=day,
            stage=asked.stage,
            homes=len(played),
            clean=len(right),
            tempo_bpm=asked.tempo_bpm,
            off_time=sum(abs(answer.offset_ms or 0.0) > TOLERANCE_MS for answer in right),
            wrong_notes=frozenset(n for n, answer in enumerate(played, start=1) if not answer.right),
            find_times_s=tuple(answer.find_s for answer in played if answer.find_s is not None),
            sighting=self.sighting,
            settling=asked.settling,
        )


class RandomNotes(Honest):
    """Any note of twelve, whatever is written."""

    def play(self, asked, day, rng):
        result = super().play(asked, day, rng)
        right = sum(rng.random() < 1 / 12 for _ in range(self.notes))
        if asked.stage is Stage.RHYTHM:
            return replace(result, clean=right, off_time=0)
        wrong = frozenset(rng.sample(range(1, self.notes + 1), self.notes - right))
        return replace(result, clean=right, off_time=0, wrong_notes=wrong)


class AlwaysLate(Honest):
    """The right notes, every one of them late, at any tempo."""

    def play(self, asked, day, rng):
        result = super().play(asked, day, rng)
        late = self.notes if asked.pulse is Pulse.METRONOME else 0
        return replace(result, clean=self.notes, off_time=late, wrong_notes=frozenset())


class OneWrongAlways(Honest):
    """Note 7 is wrong in every take; the rest comes as the curve says."""

    def play(self, asked, day, rng):
        result = super().play(asked, day, rng)
        if asked.stage is Stage.RHYTHM:
            return result
        wrong = result.wrong_notes | {7}
        return replace(result, clean=self.notes - len(wrong), off_time=0, wrong_notes=wrong)


class StopsHalfWay(Honest):
    """Plays the first half clean and stops."""

    def play(self, asked, day, rng):
        result = super().play(asked, day, rng)
        half = self.notes // 2
        return replace(result, homes=half, clean=half, off_time=0, unread=self.notes - half, wrong_notes=frozenset())


class QuitsAndReturns(Honest):
    """Leaves most takes after nothing or a few notes."""

    def play(self, asked, day, rng):
        result = super().play(asked, day, rng)
        read = rng.choice((0, 0, 3, 5, self.notes))
        return replace(
            result,
            homes=read,
            clean=min(result.clean, read),
            off_time=0,
            unread=self.notes - read,
            wrong_notes=frozenset(),
        )


HOSTILE = (RandomNotes, AlwaysLate, OneWrongAlways, StopsHalfWay, QuitsAndReturns)


@dataclass(frozen=True)
class Draw:
    """How learners are drawn: steady tempo log-uniform, start as a share of it uniform, slope log-uniform."""

    steady_bpm: tuple[float, float] = (50.0, 200.0)
    start: tuple[float, float] = (0.5, 0.95)
    slope: tuple[float, float] = (5.0, 16.0)
    lapse: tuple[float, float] = (0.0, 0.03)
    curve: AccuracyCurve = AccuracyCurve.LOGISTIC
    learning: float = 0.0
    ceiling: float | None = None
    fatigue: float = 0.0
    forgetting: float = 0.0

    def one(self, rng: Random) -> tuple[Learner, float]:
        """A learner and the tempo at which they start."""
        steady = log_uniform(rng, *self.steady_bpm)
        learner = Learner(
            steady_bpm=steady,
            ceiling_bpm=None if self.ceiling is None else steady * self.ceiling,
            slope=log_uniform(rng, *self.slope),
            lapse=rng.uniform(*self.lapse),
            curve=self.curve,
            learning=self.learning,
            fatigue=self.fatigue,
            forgetting=self.forgetting,
            bias_ms=rng.uniform(-60, 10),
            spread_ms=rng.uniform(15, 40),
        )
        return learner, steady * rng.uniform(*self.start)


def log_uniform(rng: Random, low: float, high: float) -> float:
    return exp(rng.uniform(log(low), log(high)))


def share_of(learner: Learner):
    """The learner's accuracy as a function of tempo alone, for staircases."""
    return lambda bpm: accuracy(learner, bpm)
