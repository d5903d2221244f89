"""The jumps of a take: where the player stopped, went back, skipped, or lost the click.

A player who stops and goes on a bar behind, or goes over a bar again, reads every note rightly at another
time. Seen from the click that would be a heap of missed and extra notes. Here the take is cut into segments, in
each of which the player goes straight on at one distance behind the click.

The search is a beam search over what was played: each hypothesis says which written note was read last and
how far behind the click the player is. It begins only where a plain alignment fails for several notes
together, and ends once the player is back with the click, so that an ordinary take costs nothing.
"""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from game.judging.alignment_timed import EXTRA_COST, MISSED_COST, NO_ANSWER, WRONG_COST, TimedRows, time_cost

_JUMP_COST = 12.0
_REJOIN_GAIN = 4.0
"""A jump that brings the player back to the click is the likelier."""

_SKIPPED_COST, _BACK_COST = 0.5, 0.1
"""For each note passed over, and each gone back: near jumps are the likelier."""

_JUMPERS = 3
"""So many of the best hypotheses may jump."""

_BEAM = 16
_BEAM_WIDTH = 18.0
_FARTHEST_STEP = 5
"""So many written notes may be passed over without a jump."""

_FARTHEST_JUMP = 64
_FOLLOW = 0.2
_WITH_CLICK_S = 0.12
_SETTLED_NOTES = 8
_LOOK_BACK = 4
_USUAL_PRICE = 2.5


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeJump:
    """Played note `played` was the first after a jump, from written note `left` (-1 at the beginning) to `to`.

    All are indices from 0. `behind_click_s` is how far behind the click (and the player's bias) the player is from
    there.
    """

    played: int
    left: int
    to: int
    behind_click_s: float


class _Path(NamedTuple):
    """A step of a hypothesis: `jump` where it jumped, `right` how many right notes came in a row."""

    before: "_Path | None"
    jump: TakeJump | None


class _Guess(NamedTuple):
    """A tuple rather than a dataclass, for many are made and most thrown away."""

    cost: float
    left: int
    behind_click_s: float
    right: int
    path: _Path | None


def jumps_of(rows: TimedRows, pairs: Sequence[int], *, bias_s: float, reach_s: float) -> tuple[TakeJump, ...]:
    """The jumps of a take. `pairs` is its plain alignment; none are found where that holds."""
    jumps: list[TakeJump] = []
    at = 0
    by_pitch = defaultdict(list)
    for index, pitch in enumerate(rows.asked):
        by_pitch[pitch].append(index)
    for trouble in _troubles(_prices(rows, pairs, bias_s)):
        if trouble < at:
            continue
        start = max(at, trouble - _LOOK_BACK)
        left = _left_before(pairs, start)
        found, at = _search(rows, by_pitch, start, left, bias_s, reach_s)
        jumps.extend(found)
    return tuple(jumps)


def _prices(rows: TimedRows, pairs: Sequence[int], bias_s: float) -> list[float]:
    """What the plain alignment costs at each played note, the notes left out before it included."""
    prices = [EXTRA_COST] * len(rows.times_s)
    missed = 0
    for index, at in enumerate(pairs):
        if at == NO_ANSWER:
            missed += 1
            continue
        price = missed * MISSED_COST
        if rows.asked[index] != rows.sounding[at]:
            price += WRONG_COST
        offset_s = rows.times_s[at] - rows.due_s[index] - bias_s
        if abs(offset_s) > _WITH_CLICK_S:
            price += time_cost(offset_s)
        prices[at] = price
        missed = 0
    return prices


def _troubles(prices: Sequence[float]) -> list[int]:
    """Played notes at which the plain alignment becomes dearer than jumping away and back again; at the end of a
    take, dearer than jumping away.

    A cumulative sum (Page 1954) that falls by `_USUAL_PRICE` a note: single mistakes wear off, a lost place adds up.
    """
    troubles: list[int] = []
    start, spent, told = 0, 0.0, False
    for at, price in enumerate(prices):
        if spent == 0:
            start, told = at, False
        spent = max(0.0, spent + price - _USUAL_PRICE)
        if spent >= 2 * _JUMP_COST - _REJOIN_GAIN and not told:
            troubles.append(start)
            told = True
    if spent >= _JUMP_COST and not told:
        troubles.append(start)
    return troubles


def _left_before(pairs: Sequence[int], played: int) -> int:
    """The last written note answered before played note `played`, -1 when there is none."""
    left = -1
    for index, at in enumerate(pairs):
        if at >= played:
            break
        if at != NO_ANSWER:
            left = index
    return left


def _search(
    rows: TimedRows, by_pitch: dict[int, list[int]], start: int, left: int, bias_s: float, reach_s: float
) -> tuple[list[TakeJump], int]:
    """Follow the player from played note `start`; the jumps made, and the played note at which it was clear
    again.
    """
    guesses = [_Guess(0.0, left, 0.0, 0, None)]
    at = start
    while at < len(rows.times_s):
        guesses = _after_note(rows, by_pitch, guesses, at, bias_s, reach_s)
        at += 1
        best = guesses[0]
        if best.right >= _SETTLED_NOTES and abs(best.behind_click_s) < _WITH_CLICK_S:
            break
    return _jumps_on(guesses[0].path), at


def _jumps_on(path: _Path | None) -> list[TakeJump]:
    jumps = []
    while path is not None:
        if path.jump is not None:
            jumps.append(path.jump)
        path = path.before
    return jumps[::-1]


def _after_note(
    rows: TimedRows,
    by_pitch: dict[int, list[int]],
    guesses: list[_Guess],
    at: int,
    bias_s: float,
    reach_s: float,
) -> list[_Guess]:
    """The best guesses after one more played note, best first."""
    best: dict[tuple[int, int], _Guess] = {}

    def offer(guess: _Guess) -> None:
        key = (guess.left, round(guess.behind_click_s * 5))
        known = best.get(key)
        if known is None or guess.cost < known.cost:
            best[key] = guess

    for guess in guesses:
        offer(_Guess(guess.cost + EXTRA_COST, guess.left, guess.behind_click_s, 0, guess.path))
        for went_on in _onward(rows, guess, at, bias_s, reach_s):
            offer(went_on)
    for guess in guesses[:_JUMPERS]:
        for jumped in _jumped(rows, by_pitch, guess, at, bias_s):
            offer(jumped)
    ranked = sorted(best.values(), key=lambda guess: guess.cost)[:_BEAM]
    return [guess for guess in ranked if guess.cost <= ranked[0].cost + _BEAM_WIDTH]


def _onward(rows: TimedRows, guess: _Guess, at: int, bias_s: float, reach_s: float) -> list[_Guess]:
    """The played note answers one of the next written notes."""
    found = []
    at_s = rows.times_s[at] - bias_s - guess.behind_click_s
    for passed in range(_FARTHEST_STEP):
        index = guess.left + 1 + passed
        if index >= len(rows.due_s):
            break
        offset_s = at_s - rows.due_s[index]
        if offset_s < -reach_s:
            break
        if offset_s > reach_s:
            continue
        right = rows.asked[index] == rows.sounding[at]
        cost = guess.cost + passed * MISSED_COST + time_cost(offset_s) + (0.0 if right else WRONG_COST)
        behind_click_s = guess.behind_click_s + _FOLLOW * offset_s * right
        found.append(_Guess(cost, index, behind_click_s, guess.right + 1 if right and not passed else 0, guess.path))
    return found


def _jumped(rows: TimedRows, by_pitch: dict[int, list[int]], guess: _Guess, at: int, bias_s: float) -> list[_Guess]:
    """The player has jumped, and the played note answers a written note of its pitch somewhere near."""
    found = []
    for index in by_pitch.get(rows.sounding[at], ()):
        if abs(index - guess.left) > _FARTHEST_JUMP:
            continue
        behind_click_s = rows.times_s[at] - bias_s - rows.due_s[index]
        passed = index - guess.left - 1
        cost = guess.cost + _JUMP_COST + (_SKIPPED_COST * passed if passed >= 0 else _BACK_COST * -passed)
        cost -= _REJOIN_GAIN if abs(behind_click_s) < _WITH_CLICK_S else 0.0
        jump = TakeJump(played=at, left=guess.left, to=index, behind_click_s=behind_click_s)
        found.append(_Guess(cost, index, behind_click_s, 1, _Path(guess.path, jump)))
    return found
