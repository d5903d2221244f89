"""Prints how the coach does with simulated players, beside its targets: python tests/bench/coach.py [LEARNERS]

Fixed seeds, one core, about five minutes for the 2,000 learners it takes when none are given; fewer of them stand
behind the smaller tables, which say how many. Learners are drawn by `learners.Draw`.
"""

import sys
from pathlib import Path
from random import Random
from statistics import mean, median

# ruff: noqa: E402  (a script finds the program beside it, installed or not)
sys.path[:0] = [str(Path(__file__).resolve().parents[2]), str(Path(__file__).resolve().parent)]

from game.coach.marks import Mark
from game.coach.numbers import NUMBERS
from game.demo.learner import AccuracyCurve
from tests.bench.coach_measures import (
    AS_DRAWN,
    ONE_SITTING,
    error_after,
    first_near,
    hostile_run,
    percentile,
    rises_against_evidence,
    runs,
    share_clean,
    staircase_means,
    stuck_days,
    to_sign_off,
    told_everything,
    trained,
)
from tests.bench.coach_runs import Taken, timed
from tests.bench.coach_troubles import DAILY, SITTING, after_a_fall, after_spoilt, share_under, slow_weeks, to_come_near
from tests.bench.curves import CURVES
from tests.bench.learners import HOSTILE, Draw
from tests.bench.planned_weeks import days_between_halves, practised
from tests.bench.staircases import TakeStaircase


def accuracy_row(name: str, practices: list[list[Taken]]) -> str:
    errors = [error_after(practice, 12) for practice in practices]
    signed = [
        practice[11].estimate_bpm / practice[11].truth_bpm - 1 for practice in practices if practice[11].estimate_bpm
    ]
    return (
        f"{name:42s} {median(errors):7.1%} {percentile(errors, 0.95):7.1%} {median(signed):+7.1%}"
        f" {share_clean(practices):9.1%}"
    )


def stationary(n: int) -> list[list[Taken]]:
    print("\nStationary learners after 12 takes (targets: median 4 %, p95 10 %, clean share 0.80 in 85 %)")
    print(f"{'':42s} {'median':>7s} {'p95':>7s} {'bias':>7s} {'>=0.80':>9s}")
    daily = runs(Draw(), n, 12, AS_DRAWN)
    print(accuracy_row(f"{n}: five takes a day, settling takes", daily))
    print(accuracy_row(f"{n // 4}: one sitting", runs(Draw(), n // 4, 12, ONE_SITTING)))
    print(accuracy_row(f"{n // 4}: five a day, never below 50", runs(Draw(), n // 4, 12, NUMBERS)))
    return daily


def against_staircases(n: int, daily: list[list[Taken]]) -> None:
    ours = mean(first_near(practice, prior_counts=False) for practice in daily)
    with_prior = mean(first_near(practice, prior_counts=True) for practice in daily)
    print(f"\nTakes until first within 5 %, means of {n} learners (target: half of the best staircase's)")
    print(f"coach: {ours:.2f} counted from the first take on, {with_prior:.2f} with the prior as take 0")
    print(f"an estimator told how the learners were drawn: {told_everything(n // 4):.2f}")
    print("trial      weight  step  by tempo  ratio  by turns  ratio")
    for trial, weight in (("take", 9.0), ("take", 1.5), ("note mean", 9.0), ("note", 9.0)):
        for step in (0.02, 0.04, 0.08, 0.12):
            tempo, turns = staircase_means(TakeStaircase(trial, step, weight), n)
            print(
                f"{trial:10s} {weight:6.1f} {step:5.0%} {tempo:9.2f} {ours / tempo:6.2f}"
                f" {turns:9.2f} {ours / turns:6.2f}"
            )
    print("by tempo: the staircase's own tempo; by turns: the mean of its turning points, the first left out.")
    print("take: a take of 0.90 or more is right. Weight 9 is the rule for 0.90; 1.5 rests at the steady tempo,")
    print("where 6 takes of 10 have 29 of 32 or more. note: each note a trial, steps added up (or averaged).")


MISFITS = {
    "normal curve": Draw(curve=AccuracyCurve.NORMAL),
    "Gumbel curve": Draw(curve=AccuracyCurve.GUMBEL),
    "slopes 3-8": Draw(slope=(3.0, 8.0)),
    "lapses to 8 %": Draw(lapse=(0.0, 0.08)),
    "start at 0.8-1.3 of it": Draw(start=(0.8, 1.3)),
    "learning 6 % a take to 1.4": Draw(learning=0.06, ceiling=1.4),
    "fatigue 1.5 % a take": Draw(fatigue=0.015),
    "learning and fatigue": Draw(learning=0.06, ceiling=1.4, fatigue=0.015),
}


def misfit(n: int) -> None:
    print(f"\nLearners who do not fit the model, {n} each, after 12 takes, five a day (no targets)")
    print(f"{'':42s} {'median':>7s} {'p95':>7s} {'bias':>7s} {'>=0.80':>9s}")
    for name, draw in MISFITS.items():
        print(accuracy_row(name, runs(draw, n, 12, AS_DRAWN)))


WEEKS = {
    "every day": tuple(range(1, 22)),
    "weekdays": tuple(day for day in range(1, 22) if day % 7 not in (6, 0)),
    "a week off after the first": (*range(1, 8), *range(15, 22)),
}


def three_weeks(n: int) -> None:
    print(f"\nThree weeks from the places to signed off, {n} learners each; target over untrained steady tempo")
    print(f"{'':32s} {'signed off':>10s} {'median day':>10s} {'takes':>6s} {'>=0.80':>8s} {'error':>7s}")
    for target in (1.1, 1.3):
        for name, days in WEEKS.items():
            print(f"{f'{name}, {target}':32s} {weeks_row(n, target, days)}")


def weeks_row(n: int, target: float, days: tuple[int, ...]) -> str:
    ends, takes, good, errors = [], [], [], []
    for number in range(n):
        rng = Random(77_000_000 + number)
        taken, off_day = to_sign_off(trained(rng, target), days, rng)
        climbing = timed(taken)
        ends += [] if off_day is None else [off_day]
        takes.append(len(taken))
        good += [one.result.share(one.result.clean) >= 0.8 for one in climbing[6:] if not one.asked.settling]
        errors += [abs(climbing[-1].estimate_bpm / climbing[-1].truth_bpm - 1)] if climbing else []
    day = f"{median(ends):10.0f}" if ends else f"{'-':>10s}"
    return f"{len(ends) / n:10.1%} {day} {median(takes):6.0f} {mean(good):8.1%} {median(errors):7.1%}"


def hostile(n: int) -> None:
    print(f"\nHostile players, {n} each, 14 days from the places or from 80 bpm (targets: 0, 0, no runaway)")
    print(f"{'':20s} {'rises':>6s} {'stuck days':>10s} {'fastest':>8s} {'last':>5s} {'ended in':>20s}")
    for kind in HOSTILE:
        for start in (None, 80):
            practices = [hostile_run(kind, start, Random(5_000 + number)) for number in range(n)]
            print(hostile_row(f"{kind.__name__} {start or ''}", practices))


def hostile_row(name: str, practices: list[list[Taken]]) -> str:
    tempi = [[one.asked.tempo_bpm for one in timed(practice)] for practice in practices]
    fastest = max((max(row) for row in tempi if row), default=0)
    last = median([row[-1] for row in tempi if row] or [0])
    stages = [f"{practice[-1].decided.stage.value} {practice[-1].decided.pulse.value}" for practice in practices]
    return (
        f"{name:20s} {sum(map(rises_against_evidence, practices)):6d} {sum(map(stuck_days, practices)):10d}"
        f" {fastest:8d} {last:5.0f} {max(set(stages), key=stages.count):>20s}"
    )


BURSTS = {"half": (0.5, 0.5), "a fifth to four fifths": (0.2, 0.8), "a third": (0.33, 0.33), "a quarter": (0.25, 0.25)}


def in_trouble(n: int) -> None:
    print(f"\nBad takes, {n} learners each, in one sitting and five a day (targets: 2; 4; 20 %)")
    print("notes       one half-wrong take: asked, estimate   a fall of 15 %: asked, estimate (mean, within target)")
    for notes in (8, 16, 32, 64):
        for name, numbers in (("sitting", SITTING), ("daily", DAILY)):
            spoilt = after_spoilt(notes, n, numbers, at=22)  # so that no night and no settling take comes between
            fallen = after_a_fall(notes, n, numbers)
            told = [
                f"{mean(row):5.2f} {mean(x <= most for x in row):4.0%}" for row, most in _with(spoilt, 2, fallen, 4)
            ]
            print(f"{notes:3d} {name:8s} {'   '.join(told)}")
    print(f"\nTakes over 12 % under the steady tempo, bursts in 12 % of them (target: 20 %), {n // 4} learners")
    for name, burst in BURSTS.items():
        shares = [
            share_under(notes, n // 4, burst, numbers) for notes in (8, 16, 32, 64) for numbers in (SITTING, DAILY)
        ]
        print(
            f"{name:24s} {' '.join(f'{share:6.1%}' for share in shares)}   8, 16, 32, 64 notes, each sitting and daily"
        )


def _with(spoilt, least, fallen, most):
    return [(row, least) for row in spoilt] + [(row, most) for row in fallen]


def any_curve(n: int) -> None:
    print(f"\nTakes until within 5 %, {n} learners each (target: no form worse than the staircase, the mean better)")
    print(f"{'':14s} {'estimate':>9s} {'asked':>6s} {'staircase':>10s}")
    for notes in (32, 8, 64):
        rows = {name: to_come_near(form, notes, n) for name, form in CURVES.items()}
        rows["mean"] = tuple(mean(column) for column in zip(*rows.values(), strict=True))
        for name, (estimate, asked, stairs) in rows.items():
            print(f"{name:11s} {notes:2d} {estimate:9.2f} {asked:6.2f} {stairs:10.2f}")


def slower_than_most(n: int) -> None:
    print(
        f"\nSlow players, {n} each, 14 days from the places (targets from 30 on: all end in time; four ways, no more)"
    )
    for limit in (24, 28, 30, 35, 40, 48):
        for finds in (0.7, 0.9):
            ended, sent, held = slow_weeks(limit, finds, n)
            print(
                f"limit {limit}, found in {finds:.0%} of a note: {ended:3d} in time, sent {sent:4.1f}, held {held:4.0%}"
            )


def by_the_plan(n: int) -> None:
    print(f"\nForty days by the plan on five tunes of two passages, {n} learners")
    print(f"{'minutes':>7s} {'tunes begun':>11s} {'found':>6s} {'signed off':>10s} {'days between halves':>20s}")
    for minutes in (5, 10, 20, 45):
        practices = [practised(number, minutes, range(1, 41)) for number in range(n)]
        begun = mean(len(one.begun) for one in practices)
        found = mean(len(one.marks(Mark.FOUND) | one.marks(Mark.IN_TIME)) for one in practices)
        done = mean(len(one.marks(Mark.SIGNED_OFF)) for one in practices)
        between = mean(days for one in practices for days in days_between_halves(one))
        print(f"{minutes:7d} {begun:11.1f} {found:6.1f} {done:10.1f} {between:20.1f}")


def main(n: int) -> None:
    daily = stationary(n)
    against_staircases(n, daily)
    in_trouble(max(n // 10, 20))
    any_curve(max(n // 4, 200))
    slower_than_most(max(n // 100, 5))
    misfit(max(n // 8, 20))
    three_weeks(max(n // 20, 10))
    hostile(max(n // 100, 5))
    by_the_plan(max(n // 100, 5))


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 2000)
