"""The short way: note follows note as written, but for single faults among notes that differ."""

from dataclasses import dataclass
from enum import Enum, auto

from game.judging.following.follow_numbers import (
    GATE,
    LEAN_NOISE_S2,
    LOOK_AHEAD,
    RATE_NOISE,
    VARIANCE_S2,
)
from game.judging.following.followed import NOBODY, FollowedStep, TakeRows
from game.judging.following.player_clock import PlayerClock


class SingleFault(Enum):
    """What is wrong where all that follows is right again."""

    WRONG = auto()
    LEFT_OUT = auto()
    TOO_MANY = auto()


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a reader stands: the written note read last (-1 at the start), their clock, the lean before the last jump,
    and the next played note.
    """

    written: int
    clock: PlayerClock
    home_s: float
    played: int


def straight_on(rows: TakeRows, at: Standing, steps: list[FollowedStep]) -> Standing:
    """Read on while nothing is in doubt, and append what was read to `steps`."""
    due_s, asked, times_s, sounding = rows.due_s, rows.asked, rows.times_s, rows.sounding
    i, j, home_s, notes, count = at.written, at.played, at.home_s, len(due_s), len(times_s)
    lean, rate, a, b, c = at.clock
    # Named tuples, made as the tuples they are: that takes half the time.
    made = tuple.__new__
    while j < count and i + 1 < notes:
        k = i + 1
        # What `PlayerClock.moved` and `corrected` do, written out: this is the innermost loop of every clean take.
        d = due_s[k] - due_s[i] if k else 0.0
        ahead = lean + rate * d
        a1 = a + d * (2 * b + d * c + LEAN_NOISE_S2 + RATE_NOISE * d * d / 3)
        b1, c1 = b + d * (c + RATE_NOISE * d / 2), c + RATE_NOISE * d
        off, s = times_s[j] - due_s[k] - ahead, a1 + VARIANCE_S2
        surprise = off * off / s
        alone = j + 1 == count or sounding[j + 1] != sounding[j]
        if asked[k] == sounding[j] and surprise <= GATE and (alone or not _another_is_nearer(rows, j, off)):
            s = a1 + VARIANCE_S2 * (2 + surprise) / 3
            lean_gain, rate_gain = a1 / s, b1 / s
            lean, rate = ahead + lean_gain * off, rate + rate_gain * off
            a, b, c = a1 - lean_gain * a1, b1 - lean_gain * b1, c1 - rate_gain * b1
            clock = made(PlayerClock, (lean, rate, a, b, c))
            steps.append(made(FollowedStep, (j, k, None, clock, surprise, home_s)))
            i, j = k, j + 1
            continue
        fault = _single_fault(rows, k, j, ahead, rate, s) if k else None
        if fault is None:
            break
        if fault is not SingleFault.TOO_MANY:
            i, lean, a, b, c = k, ahead, a1, b1, c1
        if fault is not SingleFault.LEFT_OUT:
            answers = k if fault is SingleFault.WRONG else NOBODY
            steps.append(FollowedStep(j, answers, None, PlayerClock(lean, rate, a, b, c), 0.0, home_s))
            j += 1
    return Standing(i, PlayerClock(lean, rate, a, b, c), home_s, j)


def _another_is_nearer(rows: TakeRows, j: int, off_s: float) -> bool:
    """Whether the next played note, of the same pitch, is nearer to the player's clock; this one came `off_s` off."""
    return abs(off_s + rows.times_s[j + 1] - rows.times_s[j]) < abs(off_s)


def _single_fault(rows: TakeRows, k: int, j: int, lean_s: float, rate: float, variance: float) -> SingleFault | None:
    """Whether written note `k` is wrong or left out, or played note `j` one too many, and nothing else is likelier.

    What follows is as written. Which of two alike was left out only the search can tell.
    """
    asked, sounding = rows.asked, rows.sounding
    if k + LOOK_AHEAD >= len(asked) or j + LOOK_AHEAD >= len(sounding):
        return None
    far_s = (3.0 * variance) ** 0.5
    here, due_s = sounding[j], rows.due_s

    def follows(written: int, played: int) -> bool:
        return all(
            asked[written + step] == sounding[played + step]
            and abs(
                rows.times_s[played + step] - due_s[written + step] - lean_s - rate * (due_s[written + step] - due_s[k])
            )
            < far_s
            for step in range(LOOK_AHEAD)
        )

    if abs(rows.times_s[j] - due_s[k] - lean_s) < far_s and follows(k + 1, j + 1):
        return SingleFault.WRONG
    if here != asked[k] and follows(k, j + 1):
        return SingleFault.TOO_MANY
    among_twins = asked[k - 1] == asked[k] or asked[k] == asked[k + 1]
    return SingleFault.LEFT_OUT if here == asked[k + 1] and not among_twins and follows(k + 1, j) else None
