"""Which played note answers which written note when the player's own clock wanders.

Pitch and order decide which note was meant; the clock, which moves with the player, says what fits. While note follows
note one hypothesis is enough (`straight_on`); at trouble a beam opens a few notes earlier (`search`) and closes once
one hypothesis has won.
"""

from game.judging.following.follow_numbers import (
    BACK_UP,
    BEAM,
    BEAM_OF_ONE_PITCH,
    LOST_AFTER,
    LOST_BEAM,
    MISSED,
    QUIT,
    QUIT_EACH,
)
from game.judging.following.followed import NOBODY, FollowedStep, TakeRows
from game.judging.following.player_clock import AT_THE_START
from game.judging.following.search import Hypothesis, after_note, is_settled
from game.judging.following.straight_on import Standing, straight_on


def follow(rows: TakeRows) -> list[FollowedStep]:
    """One step for each played note, in their order."""
    steps: list[FollowedStep] = []
    at, count = Standing(-1, AT_THE_START, 0.0, 0), len(rows.times_s)
    while at.played < count:
        at = straight_on(rows, at, steps)
        if at.played == count:
            break
        trouble = at.played
        start = trouble - _taken_back(rows, steps)
        at = _searched(rows, _standing(steps, start), trouble, steps)
    return steps


def _standing(steps: list[FollowedStep], played: int) -> Standing:
    last = next((step for step in reversed(steps) if step.written != NOBODY), None)
    if last is None:
        return Standing(-1, AT_THE_START, 0.0, played)
    return Standing(last.written, last.clock, last.home_s, played)


def _taken_back(rows: TakeRows, steps: list[FollowedStep]) -> int:
    """Take back the last steps that what follows might change; how many."""
    asked, back = rows.asked, 0
    while steps and back < BACK_UP and steps[-1].written != NOBODY and steps[-1].jump is None:
        k = steps[-1].written
        twin = asked[k] in (*asked[max(0, k - 1) : k], *asked[k + 1 : k + 2])
        if not twin and steps[-1].surprise < 1.0:
            break
        steps.pop()
        back += 1
    return back


def _searched(rows: TakeRows, at: Standing, trouble: int, steps: list[FollowedStep]) -> Standing:
    """Search from where the reader stands, and append the steps of the best hypothesis.

    It closes only beyond the played note `trouble`, or it would open there again for ever.
    """
    beam = [Hypothesis(0.0, at.written, at.clock, 0, at.home_s, None)]
    j, count = at.played, len(rows.times_s)
    most = BEAM if len(rows.by_pitch) > 1 else BEAM_OF_ONE_PITCH
    while j < count:
        beam = after_note(rows, beam, j, LOST_BEAM if j - at.played > LOST_AFTER else most)
        j += 1
        if j > trouble + 1 and is_settled(beam):
            break
    top = min(beam, key=lambda guess: _at_the_end(rows, guess)) if j == count else beam[0]
    found, trail = [], top.trail
    while trail is not None:
        found.append(trail.step)
        trail = trail.before
    steps.extend(reversed(found))
    return Standing(top.written, top.clock, top.home_s, j)


def _at_the_end(rows: TakeRows, guess: Hypothesis) -> float:
    """The cost with what was left: notes left out, or a take that was ended early."""
    left = len(rows.asked) - 1 - guess.written
    return guess.cost + min(MISSED * left, QUIT + QUIT_EACH * left)
