"""The brackets of endings as they are drawn on the page."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from game.music.score import BarMarks


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """A bracket: the bars it covers, and the bar at whose end it is over, with a sign or without."""

    first: int
    last: int
    numbers: tuple[int, ...]
    over: int
    goes_back: bool = False

    @property
    def length(self) -> int:
        """In bars, to where it is over."""
        return self.over - self.first + 1


def drawn_brackets(marks: Sequence[BarMarks]) -> list[Bracket]:
    """The brackets as they are drawn. A repeat sign or a coda ends one that nobody closed: what comes behind is under
    none.
    """
    brackets: list[Bracket] = []
    last: Bracket | None = None
    for bar, mark in enumerate(marks):
        if not mark.endings:
            last = None
            continue
        cut = bar > 0 and (mark.repeat_start or mark.coda or marks[bar - 1].repeat_end)
        begins = mark.ending_starts or bar == 0 or mark.endings != marks[bar - 1].endings
        if begins:
            last = Bracket(first=bar, last=bar, over=bar, numbers=mark.endings)
            brackets.append(last)
        elif cut or last is None:
            last = None
        else:
            last = replace(last, last=bar, over=bar)
            brackets[-1] = last
    return brackets
