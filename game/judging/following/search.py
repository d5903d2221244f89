"""The long way: a beam of hypotheses about where a player is who did not go straight on."""

from bisect import bisect_left
from collections.abc import Sequence
from enum import Enum, auto
from math import log, log1p
from typing import NamedTuple

from game.judging.following.follow_numbers import (
    AHEAD_ON_RETURN,
    AHEAD_ON_SKIP,
    BACK_EACH,
    BAR_GAIN,
    BEAM_WIDTH,
    BINS_PER_S,
    EXTRA,
    EXTRA_AGAIN,
    EXTRA_MENDS,
    FARTHEST_JUMP,
    FARTHEST_STEP,
    FREE_S2,
    GATE,
    IN_DOUBT,
    JUMP,
    JUMPERS,
    LANDINGS,
    LEAST_REACH_S,
    MISSED,
    MOST_REACH_S,
    NEAR_AHEAD,
    NEAR_BACK,
    NEAR_JUMP_S,
    NEAR_REJOIN_S,
    OTHER_PLACE,
    RATE_START,
    REJOIN_GAIN,
    SAME_LEAN_S,
    SHIFT,
    SHIFT_AHEAD,
    SHIFT_LOG,
    SKIP_EACH,
    SOONEST_MEND_S,
    SURE,
    VARIANCE_S2,
    WRONG,
    WRONG_TELLS_LESS,
)
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


class _How(Enum):
    """What a played note is to a hypothesis."""

    TOO_MANY = auto()
    RIGHT = auto()
    WRONG = auto()
    JUMP = auto()


class _Offer(NamedTuple):
    """A way on from a hypothesis, before it is worked out: most are not taken."""

    cost: float
    before: Hypothesis
    how: _How
    written: int
    surprise: float = 0.0


Offered = dict[tuple[int, int], _Offer]


def after_note(rows: TakeRows, beam: Sequence[Hypothesis], j: int, width: int) -> list[Hypothesis]:
    """The hypotheses after played note `j`, the cheapest first."""
    reach_s = min(max(rows.beat_s, LEAST_REACH_S), MOST_REACH_S)
    extra = EXTRA_AGAIN if _twice(rows, j, reach_s) or _twice(rows, j + 1, reach_s) else EXTRA
    limit = beam[0].cost + extra + BEAM_WIDTH
    best: Offered = {}
    for rank, guess in enumerate(beam):
        if guess.cost > limit:
            break
        cheapest, limit = _read_on(rows, guess, j, reach_s, limit, best)
        total = guess.cost + (EXTRA_MENDS if _mends(rows, guess, j) else extra)
        _offer(best, guess.clock.lean_s, _Offer(total, guess, _How.TOO_MANY, guess.written))
        if rank < JUMPERS and cheapest > IN_DOUBT:
            _jump(rows, guess, j, limit, best)
    ranked = sorted(best.values(), key=_cost)[:width]
    limit = ranked[0].cost + BEAM_WIDTH
    return [_taken(rows, offer, j) for offer in ranked if offer.cost <= limit]


def _cost(offer: _Offer) -> float:
    return offer.cost


def _offer(best: Offered, lean_s: float, offer: _Offer) -> None:
    key = (offer.written, round(lean_s * BINS_PER_S))
    known = best.get(key)
    if known is None or offer.cost < known.cost:
        best[key] = offer


def _taken(rows: TakeRows, offer: _Offer, j: int) -> Hypothesis:
    """The hypothesis that an offer leads to."""
    cost, (_, i, clock, right, home_s, trail), how, k, surprise = offer
    if how is _How.TOO_MANY:
        return Hypothesis(cost, i, clock, 0, home_s, Trail(trail, FollowedStep(j, NOBODY, None, clock, 0.0, home_s)))
    off_s, base_s = rows.times_s[j] - rows.due_s[k], rows.due_s[max(i, 0)]
    if how is _How.JUMP:
        by_s = off_s - _lean_at(clock, rows.due_s[k] - base_s)
        landed = clock_at(off_s, clock.rate, RATE_START)
        told = FollowedStep(j, k, TimeJump(j, i, k, by_s), landed, 1.0, clock.lean_s)
        return Hypothesis(cost, k, landed, 1, clock.lean_s, Trail(trail, told))
    after = clock.moved(rows.due_s[k] - base_s).corrected(off_s, 1.0 if how is _How.RIGHT else WRONG_TELLS_LESS)
    running = right + 1 if how is _How.RIGHT and k == i + 1 and surprise < GATE else 0
    return Hypothesis(cost, k, after, running, home_s, Trail(trail, FollowedStep(j, k, None, after, surprise, home_s)))


def _lean_at(clock: PlayerClock, d: float) -> float:
    """The lean `d` seconds of music later; nobody's clock runs backwards."""
    return clock.lean_s + clock.rate * max(0.0, d)


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
    return rows.times_s[j] - rows.times_s[j - 1] > SOONEST_MEND_S


def _read_on(
    rows: TakeRows, guess: Hypothesis, j: int, reach_s: float, limit: float, best: Offered
) -> tuple[float, float]:
    """The played note answers one of the next written notes. Gives the cheapest such step, and the limit after it."""
    due_s, asked, at_s, pitch = rows.due_s, rows.asked, rows.times_s[j], rows.sounding[j]
    cost, i, clock, *_ = guess
    lean_s, rate, *_ = clock
    base_s, cheapest, missed = due_s[max(i, 0)] if due_s else 0.0, 99.0, -MISSED
    for k in range(i + 1, min(len(due_s), i + 1 + FARTHEST_STEP)):
        missed += MISSED
        if cost + missed > limit:
            break
        d = due_s[k] - base_s
        surprise_s = at_s - due_s[k] - lean_s - rate * d
        if surprise_s < -reach_s:
            break
        if surprise_s > reach_s:
            continue
        variance = clock.variance_after(d)
        s = variance + VARIANCE_S2
        surprise = surprise_s * surprise_s / s
        as_asked = asked[k] == pitch
        step = missed + 0.5 * log((1 + surprise / 2) ** 3 * s / FREE_S2)
        step += _pitch_cost(rows, k, j) if as_asked else WRONG
        cheapest = min(cheapest, step)
        total = cost + step
        if total > limit:
            continue
        limit = min(limit, total + BEAM_WIDTH)
        noise_s2 = VARIANCE_S2 * (1.0 if as_asked else WRONG_TELLS_LESS) * (2 + surprise) / 3
        after_s = lean_s + rate * d + variance / (variance + noise_s2) * surprise_s
        _offer(best, after_s, _Offer(total, guess, _How.RIGHT if as_asked else _How.WRONG, k, surprise))
    return cheapest, limit


def _pitch_cost(rows: TakeRows, k: int, j: int) -> float:
    """What a right pitch costs at another place than its home."""
    if rows.homes is None or rows.places is None:
        return 0.0
    home, place = rows.homes[k], rows.places[j]
    return 0.0 if home is None or place is None or home == place else OTHER_PLACE


def _jump(rows: TakeRows, guess: Hypothesis, j: int, limit: float, best: Offered) -> None:
    """The player hesitated, stopped, went back or skipped, and played note `j` is a right one again."""
    cost, i, clock, _, home_s, _ = guess
    if cost + SHIFT - REJOIN_GAIN > limit:
        return
    due_s, at_s = rows.due_s, rows.times_s[j]
    base_s = due_s[max(i, 0)] if due_s else 0.0
    farthest = i + 1 + (limit - cost - JUMP + BAR_GAIN + REJOIN_GAIN) / SKIP_EACH
    for k in _landings(rows, i, rows.sounding[j]):
        if k > farthest and k > i + 1:
            break
        there_s = at_s - due_s[k]
        by_s = there_s - _lean_at(clock, due_s[k] - base_s)
        if k == i + 1 and -NEAR_JUMP_S < by_s < NEAR_JUMP_S:
            continue
        total = cost + _jump_cost(rows, i, k, by_s, abs(there_s - home_s) < NEAR_REJOIN_S)
        if total <= limit:
            _offer(best, there_s, _Offer(total, guess, _How.JUMP, k))


def _landings(rows: TakeRows, i: int, pitch: int) -> list[int]:
    """The written notes of a pitch that a player at note `i` may have gone to: the near ones, and the beginning."""
    found = rows.by_pitch.get(pitch, [])
    start = bisect_left(found, i - FARTHEST_JUMP)
    near = found[start : bisect_left(found, i + FARTHEST_JUMP + 1)]
    if len(near) > LANDINGS:
        near = [k for k in near if begins_bar(rows, k) or -NEAR_BACK <= k - i <= NEAR_AHEAD]
    return [*(k for k in found[:2] if k < min(4, i - FARTHEST_JUMP)), *near]


def _jump_cost(rows: TakeRows, i: int, k: int, by_s: float, rejoins: bool) -> float:
    if k == i + 1:
        cost = SHIFT + SHIFT_LOG * log1p(abs(by_s) / 0.1) + (SHIFT_AHEAD if by_s < 0 else 0.0)
    else:
        if k > i:
            cost = JUMP + SKIP_EACH * (k - i - 1)
            cost += 0.0 if by_s < 0.1 else AHEAD_ON_SKIP
        else:
            cost = JUMP + BACK_EACH * (i - k) + (0.0 if by_s > 0 else AHEAD_ON_RETURN)
        cost -= BAR_GAIN if begins_bar(rows, k) else 0.0
    passes_in_time = k > i + 1 and abs(by_s) < NEAR_REJOIN_S
    return cost - (REJOIN_GAIN if rejoins or passes_in_time else 0.0)


def begins_bar(rows: TakeRows, k: int) -> bool:
    """Whether written note `k` is the first of its bar; nobody knows where no bars were given."""
    return bool(rows.begins_bar) and rows.begins_bar[k]


def is_settled(beam: Sequence[Hypothesis]) -> bool:
    """Whether the best hypothesis has won: enough right notes running, and enough of a lead over the next that says
    something else. "That last note was one too many" says nothing else.
    """
    top = beam[0]
    if top.right < SURE[0][0]:
        return False
    lead = next((guess.cost - top.cost for guess in beam if _says_otherwise(guess, top)), BEAM_WIDTH)
    return any(top.right >= right and lead >= least for right, least in SURE)


def _says_otherwise(guess: Hypothesis, top: Hypothesis) -> bool:
    if not guess.right and abs(guess.written - top.written) <= 1:
        return False
    return guess.written != top.written or abs(guess.clock.lean_s - top.clock.lean_s) > SAME_LEAN_S
