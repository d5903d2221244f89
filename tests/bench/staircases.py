"""Fixed-step staircases, the rivals of the coach's estimate.

Levels are log tempi: higher is harder. Transformed up-down rules: Levitt 1971. Weighted up-down: Kaernbach
1991, the step towards easier over the step towards harder is p / (1 - p).
"""

from collections.abc import Callable
from dataclasses import dataclass
from math import exp, log
from random import Random
from statistics import mean

HARDEST, EASIEST = log(2000), log(2)


def transformed(answer: Callable[[float], bool], *, start: float, step: float, downs: int, trials: int):
    """Levels of a Levitt rule: harder after `downs` right answers running, easier after each wrong one."""
    level, running, levels = start, 0, []
    for _ in range(trials):
        levels.append(level)
        if answer(level):
            running += 1
            if running == downs:
                level, running = level + step, 0
        else:
            level, running = level - step, 0
    return levels


def weighted(answer: Callable[[float], bool], *, start: float, step: float, share: float, trials: int):
    """Levels of Kaernbach's rule for `share` right: harder by `step`, easier by share / (1 - share) steps."""
    level, levels = start, []
    for _ in range(trials):
        levels.append(level)
        level += step if answer(level) else -step * share / (1 - share)
    return levels


@dataclass(frozen=True)
class TakeStaircase:
    """A weighted staircase whose tempo stands still within a take.

    `trial` is "take" (a take at the target share or above is right) or "note" (each note is a trial; the
    steps of a take are added up, or averaged for "note mean", and applied at its end). `weight` is easier
    over harder step; `step` the harder step of a take, the easier step of a note in "note", as a share of
    the tempo.
    """

    trial: str
    step: float
    weight: float = 9.0

    def change(self, right: int, notes: int, target: float = 0.90) -> float:
        unit = log(1 + self.step)
        if self.trial == "take":
            return unit if right / notes >= target - 1e-9 else -unit * self.weight
        moved = unit * (right - self.weight * (notes - right))
        return moved / notes if self.trial == "note mean" else moved / self.weight


def takes_to_come_near(
    staircase: TakeStaircase,
    share_at: Callable[[float], float],
    *,
    steady: float,
    start: float,
    rng: Random,
    near: float = 0.05,
    most: int = 200,
    notes: int = 32,
) -> tuple[int, int]:
    """Takes until the tempo itself, and until the mean of its turning points (the first left out, as Levitt
    advises), first lies within `near` of `steady`; `most` where it never does.
    """
    level, turns, last = log(start), [], 0.0
    by_level = by_turns = None
    for take in range(most):
        if by_level is None and abs(exp(level) / steady - 1) <= near:
            by_level = take
        if len(turns) > 1 and by_turns is None and abs(exp(mean(turns[1:])) / steady - 1) <= near:
            by_turns = take
        if by_level is not None and by_turns is not None:
            break
        share = share_at(exp(level))
        change = staircase.change(sum(rng.random() < share for _ in range(notes)), notes)
        if change * last < 0:
            turns.append(level)
        last = change or last
        level = min(max(level + change, EASIEST), HARDEST)
    return (most if by_level is None else by_level, most if by_turns is None else by_turns)
