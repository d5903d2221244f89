"""What is measured of simulated practices: for the bench's tables and for the tests."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from math import exp
from random import Random
from statistics import mean

import numpy as np

from game.coach.events import PassageFacts
from game.coach.marks import Mark
from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.tempo.belief import Belief
from game.coach.tempo.like_passages import prior_for
from game.coach.tempo.steady_tempo import GRID, belief_of, updated_belief
from game.demo.learner import Learner
from tests.bench.coach_runs import Taken, timed, timed_run, whole_run
from tests.bench.learners import Draw, Honest, share_of
from tests.bench.staircases import TakeStaircase, takes_to_come_near

PASSAGE = PassageFacts(name="passage")
# Learners are drawn with starts below 50, too: the floor is lowered so that they start as drawn.
AS_DRAWN = replace(NUMBERS, lowest_bpm=20)
ONE_SITTING = replace(AS_DRAWN, takes_a_day=99)
NEAR = 0.05


def runs(draw: Draw, n: int, takes: int, numbers: CoachNumbers, seed: int = 1) -> list[list[Taken]]:
    practices = []
    for number in range(n):
        rng = Random(seed * 1_000_000 + number)
        learner, start_bpm = draw.one(rng)
        player = Honest(learner, PASSAGE)
        practices.append(timed_run(player, start_bpm, takes=takes, rng=rng, numbers=numbers))
    return practices


def error_after(practice: list[Taken], take: int) -> float:
    """How far the estimate lies from the truth of that take, as a share; no estimate is all wrong."""
    one = practice[take - 1]
    return 1.0 if one.estimate_bpm is None else abs(one.estimate_bpm / one.truth_bpm - 1)


def first_near(practice: list[Taken], *, prior_counts: bool) -> int:
    """Takes until the estimate first lies within 5 %; 0 when the prior does and counts."""
    first = practice[0]
    guess = prior_for(PASSAGE, (), first.result.tempo_bpm or 1.0).bpm
    if prior_counts and abs(guess / first.truth_bpm - 1) <= NEAR:
        return 0
    near = (take for take in range(1, len(practice) + 1) if error_after(practice, take) <= NEAR)
    return next(near, len(practice))


def share_clean(practices: list[list[Taken]], after: int = 6, least: float = 0.80) -> float:
    """Of the takes after so many, settling takes apart, the share with at least `least` clean."""
    later = [one for practice in practices for one in practice[after:] if not one.asked.settling]
    return mean(one.result.share(one.result.clean) >= least for one in later)


def percentile(values: list[float], share: float) -> float:
    return sorted(values)[min(int(share * len(values)), len(values) - 1)]


def told_everything(n: int) -> float:
    """Mean takes until first near for an estimator that is told how the learners were drawn and jumps at will.

    No coach can know the draw; what this one needs, no honest one will beat by much.
    """
    told = replace(NUMBERS, slopes=(5.0, 6.7, 9.0, 12.0, 16.0), lapses=(0.005, 0.015, 0.025))
    return mean(takes_when_told(Random(1_000_000 + number), told) for number in range(n))


def takes_when_told(rng: Random, told: CoachNumbers, most: int = 12) -> int:
    learner, bpm = Draw().one(rng)
    share_at, belief = share_of(learner), belief_of_the_draw(bpm, told)
    for take in range(1, most):
        right = sum(rng.random() < share_at(bpm) for _ in range(32))
        belief = updated_belief(belief, bpm=bpm, right=right, asked=32, numbers=told)
        bpm = belief.bpm
        if abs(bpm / learner.steady_bpm - 1) <= NEAR:
            return take
    return most


def belief_of_the_draw(start_bpm: float, numbers: CoachNumbers) -> Belief:
    """Start over steady tempo is even between 0.5 and 0.95: so is its density over log tempo, times itself."""
    shares = [start_bpm / exp(x) for x in GRID]
    row = tuple(share if 0.5 <= share <= 0.95 else 1e-9 for share in shares)
    return belief_of(np.array([row] * (len(numbers.slopes) * len(numbers.lapses))))


def staircase_means(staircase: TakeStaircase, n: int) -> tuple[float, float]:
    takes = []
    for number in range(n):
        rng = Random(1_000_000 + number)
        learner, start_bpm = Draw().one(rng)
        takes.append(
            takes_to_come_near(staircase, share_of(learner), steady=learner.steady_bpm, start=round(start_bpm), rng=rng)
        )
    return mean(tempo for tempo, _ in takes), mean(turns for _, turns in takes)


def trained(rng: Random, target: float) -> Honest:
    """A learner 1.5 times as fast with practice, lapses to 2 %, with some tiring and forgetting."""
    draw = Draw(
        steady_bpm=(55.0, 150.0),
        lapse=(0.0, 0.02),
        learning=0.04,
        ceiling=1.5,
        fatigue=0.008,
        forgetting=0.04,
    )
    learner, _ = draw.one(rng)
    target_bpm = round(learner.steady_bpm * target)
    learner = replace(learner, find_s=0.8 * 60 / learner.steady_bpm)
    return Honest(learner, PassageFacts(name="passage", target_bpm=target_bpm))


def to_sign_off(player: Honest, days: tuple[int, ...], rng: Random) -> tuple[list[Taken], int | None]:
    taken, _ = whole_run(player, days=days, rng=rng)
    for number, one in enumerate(taken, start=1):
        if Mark.SIGNED_OFF in one.decided.earned:
            return taken[:number], one.result.day
    return taken, None


def rises_against_evidence(practice: list[Taken]) -> int:
    """Rises while the last three timed takes lie below 0.90 by more than a standard error of their share. False starts
    are no takes.
    """
    count, played = 0, [one for one in timed(practice) if not one.result.is_false_start(NUMBERS.least_notes)]
    for number, (one, following) in enumerate(pairwise(played), start=1):
        last = played[max(number - 3, 0) : number]
        asked = sum(each.result.homes for each in last)
        share = sum(each.result.right for each in last) / asked
        error = (share * (1 - share) / asked) ** 0.5
        count += share + error < 0.90 and following.asked.tempo_bpm > one.asked.tempo_bpm
    return count


def hostile_run(kind: Callable[..., Honest], start: int | None, rng: Random) -> list[Taken]:
    player = kind(Learner(steady_bpm=90, slope=9, lapse=0.01), PASSAGE)
    if start is None:
        return whole_run(player, days=tuple(range(1, 15)), rng=rng)[0]
    return timed_run(player, start, takes=70, rng=rng)


def stuck_days(practice: list[Taken]) -> int:
    """Days on which more takes, or more false starts, were asked for than a day has."""
    least = NUMBERS.least_notes
    by_day = [(one.result.day, one.result.is_false_start(least)) for one in practice]
    most = {False: NUMBERS.takes_a_day, True: NUMBERS.false_starts_a_day}
    return sum(by_day.count((day, false)) > most[false] for day, false in set(by_day))
