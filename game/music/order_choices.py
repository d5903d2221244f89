"""Where the order of play could have been another: what the player is told of it, and how the other is chosen."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from game.errors import TuneError
from game.message import Message, message
from game.music.order import doubts_of, order_of_play
from game.music.score import Bar, OrderDoubt
from game.music.sections import FoundDoubt, sections_of

_MOST_LOOKED_AT = 24
"""Doubts of one page of which it is worked out whether the order depends on them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderChoice:
    """A doubt on which the order of play depends. `otherwise`: the player chose the reading that is not the usual."""

    found: FoundDoubt
    otherwise: bool


def order_choices(bars: Sequence[Bar]) -> tuple[OrderChoice, ...]:
    """Where the order of these bars had to be chosen, in the order of the page; 24 doubts at most are looked at."""
    order = order_of_play(bars)
    choices = []
    for found in dict.fromkeys(doubts_of(bars)[:_MOST_LOOKED_AT]):
        turned = _order_or_none(_turned(bars, found))
        if turned in (None, order) or not _leaves_bars_out(found, order, turned):
            continue
        choices.append(OrderChoice(found=found, otherwise=found.doubt in bars[found.bar].marks.read_otherwise))
    return tuple(choices)


def _leaves_bars_out(found: FoundDoubt, *orders: Sequence[int] | None) -> bool:
    """Whether one reading never plays the bars behind a jump, where the doubt is about such bars."""
    if found.doubt not in (OrderDoubt.EARLY_JUMP, OrderDoubt.BARS_BEHIND_JUMP):
        return True
    lost = set(range(found.bar + 1, found.other + 1))
    return any(not lost & set(order or ()) for order in orders)


def read_next_way(bars: Sequence[Bar]) -> tuple[Bar, ...] | None:
    """The bars with the next reading of their signs: the usual one, then each choice by itself the other way, then the
    usual one again. None when there is but one order.
    """
    usual = tuple(replace(bar, marks=replace(bar.marks, read_otherwise=())) for bar in bars)
    ways = {order_of_play(usual): usual}
    for choice in order_choices(usual):
        other = _turned(usual, choice.found)
        ways.setdefault(order_of_play(other), other)
    if len(ways) == 1:
        return None
    orders = list(ways)
    now = order_of_play(bars)
    at = orders.index(now) if now in ways else -1
    return ways[orders[(at + 1) % len(orders)]]


def order_told(bars: Sequence[Bar]) -> str:
    """The order of play by the numbers as printed: "1-8, 1-6, 9-10"."""
    return ", ".join(order_runs(bars))


def order_runs(bars: Sequence[Bar]) -> tuple[str, ...]:
    """The bars that are played one after another as they stand, run by run: "1-8", "1-6", "9-10"."""
    runs: list[list[int]] = []
    for index in order_of_play(bars):
        if runs and index == runs[-1][-1] + 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    return tuple(_run_told(bars, run) for run in runs)


def choice_told(bars: Sequence[Bar], choice: OrderChoice) -> Message:
    """The sentence that says what was assumed, or what the player chose instead."""
    found = choice.found
    key = "_".join(found.doubt.value.split())
    said = message(f"order.{key}", bar=bars[found.bar].number, other=bars[found.other].number)
    return message("order.otherwise", assumed=said) if choice.otherwise else said


def choices_told(bars: Sequence[Bar]) -> tuple[Message, ...]:
    """A sentence for each choice of these bars."""
    return tuple(choice_told(bars, choice) for choice in order_choices(bars))


def straight_on(bars: Sequence[Bar]) -> bool:
    """Whether the bars are played once, one after another."""
    order = order_of_play(bars)
    return len(order) == len(bars) and all(after == before + 1 for before, after in pairwise(order))


def with_brackets_read(bars: Sequence[Bar]) -> tuple[Bar, ...]:
    """The bars with the brackets of endings over all bars that are read as theirs, for the page to show."""
    marks = [bar.marks for bar in bars]
    for section in sections_of(marks)[0]:
        for ending in section.endings:
            numbers = marks[ending.first].endings
            for under in range(ending.first, ending.last + 1):
                stops = under == ending.last and (marks[under].ending_stops or marks[under].repeat_end > 0)
                starts = under == ending.first
                marks[under] = replace(marks[under], endings=numbers, ending_starts=starts, ending_stops=stops)
    return tuple(replace(bar, marks=read) for bar, read in zip(bars, marks, strict=True))


def _run_told(bars: Sequence[Bar], run: Sequence[int]) -> str:
    first, last = bars[run[0]].number, bars[run[-1]].number
    return first if len(run) == 1 else f"{first}-{last}"


def _turned(bars: Sequence[Bar], found: FoundDoubt) -> tuple[Bar, ...]:
    """The bars with this doubt read the other way."""
    marks = bars[found.bar].marks
    chosen = marks.read_otherwise
    if found.doubt in chosen:
        chosen = tuple(doubt for doubt in chosen if doubt is not found.doubt)
    else:
        chosen = (*chosen, found.doubt)
    turned = replace(bars[found.bar], marks=replace(marks, read_otherwise=chosen))
    return (*bars[: found.bar], turned, *bars[found.bar + 1 :])


def _order_or_none(bars: Sequence[Bar]) -> tuple[int, ...] | None:
    """None where it would be endless."""
    try:
        return order_of_play(bars)
    except TuneError:
        return None
