"""The long way: a beam of hypotheses about where a player is who did not go straight on."""

from bisect import bisect_left
from collections.abc import Sequence
from math import log, log1p
from typing import NamedTuple

from game.judging.following import follow_numbers as cost_of
from game.judging.following.followed import NOBODY, FollowedStep, TakeRows, TimeJump
from game.judging.following.player_clock import PlayerClock, clock_at


class Trail(NamedTuple):
    """The steps of a hypothesis, latest first."""

    before: "Trail | None"
    step: FollowedStep


class Hypothesis(NamedTuple):
    """Written note `written` was read last; `right` notes running were right; `home_s` is the lean before the last
    jump.
    """

    cost: float
    written: int
    clock: PlayerClock
    right: int
    home_s: float
    trail: Trail | None


Offered = dict[tuple[int, int], Hypothesis]


def after_note(rows: TakeRows, beam: Sequence[Hypothesis], j: int, width: int) -> list[Hypothesis]:
    """The hypotheses after played note `j`, the cheapest first."""
    reach_s = min(max(rows.beat_s, cost_of.LEAST_REACH_S), cost_of.MOST_REACH_S)
    extra = cost_of.EXTRA_AGAIN if _twice(rows, j, reach_s) or _twice(rows, j + 1, reach_s) else cost_of.EXTRA
    limit = beam[0].cost + extra + cost_of.BEAM_WIDTH
    best: Offered = {}
    for rank, guess in enumerate(beam):
        if guess.cost > limit:
            break
        cheapest, limit = _read_on(rows, guess, j, reach_s, limit, best)
        step = FollowedStep(j, NOBODY, None, guess.clock, 0.0, guess.home_s)
        total = guess.cost + (cost_of.EXTRA_MENDS if _mends(rows, guess, j) else extra)
        _offer(best, Hypothesis(total, guess.written, guess.clock, 0, guess.home_s, Trail(guess.trail, step)))
        if rank < cost_of.JUMPERS and cheapest > 2.5:
            _jump(rows, guess, j, limit, best)
    ranked = sorted(best.values(), key=_cost)[:width]
    limit = ranked[0].cost + cost_of.BEAM_WIDTH
    return [guess for guess in ranked if guess.cost <= limit]


def _twice(rows: TakeRows, j: int, reach_s: float) -> bool:
    """Whether played note `j` is of the pitch of the one before, and soon after it."""
    if not 0 < j < len(rows.sounding):
        return False
    return rows.sounding[j - 1] == rows.sounding[j] and rows.times_s[j] - rows.times_s[j - 1] < reach_s


def _mends(rows: TakeRows, guess: Hypothesis, j: int) -> bool:
    """Whether the played note before this one was wrong, and this is what it should have been."""
    if guess.trail is None:
        return False
    _, i, *_ = guess.trail.step
    if i == NOBODY or not rows.asked[i] == rows.sounding[j] != rows.sounding[j - 1]:
        return False
    return rows.times_s[j] - rows.times_s[j - 1] > cost_of.SOONEST_MEND_S


def _cost(guess: Hypothesis) -> float:
    return guess.cost


def _offer(best: Offered, guess: Hypothesis) -> None:
    key = (guess.written, round(guess.clock.lean_s * cost_of.BINS_PER_S))
    known = best.get(key)
    if known is None or guess.cost < known.cost:
        best[key] = guess


def _read_on(
    rows: TakeRows, guess: Hypothesis, j: int, reach_s: float, limit: float, best: Offered
) -> tuple[float, float]:
    """The played note answers one of the next written notes. Gives the cheapest such step, and the limit after it."""
    due_s, asked, at_s, pitch = rows.due_s, rows.asked, rows.times_s[j], rows.sounding[j]
    cost, i, clock, right, home_s, trail = guess
    base_s, cheapest, missed = due_s[max(i, 0)] if due_s else 0.0, 99.0, -cost_of.MISSED
    for k in range(i + 1, min(len(due_s), i + 1 + cost_of.FARTHEST_STEP)):
        missed += cost_of.MISSED
        if cost + missed > limit:
            break
        d = due_s[k] - base_s
        off_s = at_s - due_s[k]
        surprise_s = off_s - clock.lean_s - clock.rate * d
        if surprise_s < -reach_s:
            break
        if surprise_s > reach_s:
            continue
        s = clock.variance_after(d) + cost_of.VARIANCE_S2
        surprise = surprise_s * surprise_s / s
        as_asked = asked[k] == pitch
        step = missed + 0.5 * log((1 + surprise / 2) ** 3 * s / cost_of.FREE_S2)
        step += _pitch_cost(rows, k, j) if as_asked else cost_of.WRONG
        cheapest = min(cheapest, step)
        total = cost + step
        if total > limit:
            continue
        limit = min(limit, total + cost_of.BEAM_WIDTH)
        after = clock.moved(d).corrected(off_s, 1.0 if as_asked else 4.0)
        key = (k, round(after.lean_s * cost_of.BINS_PER_S))
        known = best.get(key)
        if known is None or total < known.cost:
            running = right + 1 if as_asked and k == i + 1 and surprise < cost_of.GATE else 0
            told = FollowedStep(j, k, None, after, surprise, home_s)
            best[key] = Hypothesis(total, k, after, running, home_s, Trail(trail, told))
    return cheapest, limit


def _pitch_cost(rows: TakeRows, k: int, j: int) -> float:
    """What a right pitch costs at another place than its home."""
    if rows.homes is None or rows.places is None:
        return 0.0
    home, place = rows.homes[k], rows.places[j]
    return 0.0 if home is None or place is None or home == place else cost_of.OTHER_PLACE


def _jump(rows: TakeRows, guess: Hypothesis, j: int, limit: float, best: Offered) -> None:
    """The player hesitated, stopped, went back or skipped, and played note `j` is a right one again."""
    clock, i, home_s = guess.clock, guess.written, guess.home_s
    if guess.cost + cost_of.SHIFT - cost_of.REJOIN_GAIN > limit:
        return
    due_s, at_s = rows.due_s, rows.times_s[j]
    base_s = due_s[max(i, 0)] if due_s else 0.0
    for k in _landings(rows, i, rows.sounding[j]):
        there_s = at_s - due_s[k]
        by_s = there_s - clock.lean_s - (clock.rate * (due_s[k] - base_s) if k > i else 0.0)
        if k == i + 1 and -cost_of.NEAR_JUMP_S < by_s < cost_of.NEAR_JUMP_S:
            continue
        total = guess.cost + _jump_cost(rows, i, k, by_s, abs(there_s - home_s) < cost_of.NEAR_REJOIN_S)
        if total > limit:
            continue
        key = (k, round(there_s * cost_of.BINS_PER_S))
        known = best.get(key)
        if known is None or total < known.cost:
            landed = clock_at(there_s, clock.rate, cost_of.RATE_START)
            told = FollowedStep(j, k, TimeJump(j, i, k, by_s), landed, 1.0, clock.lean_s)
            best[key] = Hypothesis(total, k, landed, 1, clock.lean_s, Trail(guess.trail, told))


def _landings(rows: TakeRows, i: int, pitch: int) -> list[int]:
    """The written notes of a pitch that a player at note `i` may have gone to: the near ones, and the beginning."""
    found = rows.by_pitch.get(pitch, [])
    start = bisect_left(found, i - cost_of.FARTHEST_JUMP)
    near = found[start : bisect_left(found, i + cost_of.FARTHEST_JUMP + 1)]
    if len(near) > cost_of.LANDINGS:
        near = [k for k in near if begins_bar(rows, k) or -cost_of.NEAR_BACK <= k - i <= cost_of.NEAR_AHEAD]
    return [*(k for k in found[:2] if k < min(4, i - cost_of.FARTHEST_JUMP)), *near]


def _jump_cost(rows: TakeRows, i: int, k: int, by_s: float, rejoins: bool) -> float:
    if k == i + 1:
        cost = cost_of.SHIFT + cost_of.SHIFT_LOG * log1p(abs(by_s) / 0.1) + (cost_of.SHIFT_AHEAD if by_s < 0 else 0.0)
    else:
        if k > i:
            cost = cost_of.JUMP + cost_of.SKIP_EACH * (k - i - 1)
            cost += 0.0 if by_s < 0.1 else cost_of.AHEAD_ON_SKIP
        else:
            cost = cost_of.JUMP + cost_of.BACK_EACH * (i - k) + (0.0 if by_s > 0 else cost_of.AHEAD_ON_RETURN)
        cost -= cost_of.BAR_GAIN if begins_bar(rows, k) else 0.0
    passes_in_time = k > i + 1 and abs(by_s) < cost_of.NEAR_REJOIN_S
    return cost - (cost_of.REJOIN_GAIN if rejoins or passes_in_time else 0.0)


def begins_bar(rows: TakeRows, k: int) -> bool:
    """Whether written note `k` is the first of its bar; nobody knows where no bars were given."""
    return bool(rows.begins_bar) and rows.begins_bar[k]


def is_settled(beam: Sequence[Hypothesis]) -> bool:
    """Whether the best hypothesis has won: enough right notes running, and enough of a lead over the next that says
    something else. "That last note was one too many" says nothing else.
    """
    top = beam[0]
    if top.right < cost_of.SURE[0][0]:
        return False
    lead = next((guess.cost - top.cost for guess in beam if _says_otherwise(guess, top)), cost_of.BEAM_WIDTH)
    return any(top.right >= right and lead >= least for right, least in cost_of.SURE)


def _says_otherwise(guess: Hypothesis, top: Hypothesis) -> bool:
    if not guess.right and abs(guess.written - top.written) <= 1:
        return False
    return guess.written != top.written or abs(guess.clock.lean_s - top.clock.lean_s) > cost_of.SAME_LEAN_S
