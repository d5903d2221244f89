"""The stretches of a page that are repeated, and the endings that close them.

Brackets are read as they are meant where they are drawn otherwise: many programs stop a bracket in its first bar, the
repeat sign some bars later (seen in a third of the endings of real lead sheets). Wherever that was a choice it is told
as a doubt, and where the player chose the other reading (`BarMarks.read_otherwise`) that one holds.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from game.music.brackets import Bracket, drawn_brackets
from game.music.score import BarMarks, OrderDoubt

LEAST_BARS_REPEATED = 4
"""The fewest bars from a double bar line to a repeat sign that make a section of their own (ours)."""
MOST_BARS_BEHIND = 8
"""How far behind a bracket its repeat sign, or the next bracket, is looked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ending:
    """Bars `first` to `last` under one bracket, played at these times through."""

    first: int
    last: int
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Bars `first` to `last`, played `times` in all, with the endings that close them.

    `back_at` tells at the end of which bars, and at which times through, the player goes back to `first`, whether a
    sign stands there or was forgotten.
    """

    first: int
    last: int
    times: int
    endings: tuple[Ending, ...] = ()
    back_at: frozenset[tuple[int, int]] = frozenset()

    def ending_at(self, bar: int) -> Ending | None:
        """The ending that `bar` stands under."""
        return next((ending for ending in self.endings if ending.first <= bar <= ending.last), None)

    def goes_back(self, bar: int, time_through: int) -> bool:
        """Whether the player goes back at the end of `bar` this time."""
        if time_through >= self.times:
            return False
        return (bar, time_through) in self.back_at if self.endings else bar == self.last

    def ending_for(self, time_through: int) -> Ending | None:
        """The ending played this time; None when the bars after the bracket serve as the last one."""
        return next((ending for ending in self.endings if time_through in ending.numbers), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundDoubt:
    """A doubt about signs of `bar`; the one that it was read by stands in, or behind, bar `other`."""

    doubt: OrderDoubt
    bar: int
    other: int


def sections_of(marks: Sequence[BarMarks]) -> tuple[tuple[Section, ...], tuple[FoundDoubt, ...]]:
    """The sections from left to right, none inside another, and where there was something to choose."""
    reader = _SectionReader(marks)
    return tuple(reader.sections()), tuple(reader.doubts)


class _SectionReader:
    """Reads the page once; `doubts` grow while it does."""

    def __init__(self, marks: Sequence[BarMarks]) -> None:
        self._marks = marks
        # An ending but the first that an opening sign begins ends the section before: to the next it is no ending.
        self._drawn = {
            bracket.first: bracket
            for bracket in drawn_brackets(marks)
            if 1 in bracket.numbers or not marks[bracket.first].repeat_start
        }
        self.doubts: list[FoundDoubt] = []

    def sections(self) -> list[Section]:
        sections = []
        first = bar = 0
        while bar < len(self._marks):
            if self._marks[bar].repeat_start:
                first = bar
            section = self._section_at(first, bar)
            if section is not None:
                section = replace(section, first=self._opening(section.first, bar, section.last))
                sections.append(section)
                first = section.last + 1
            bar = section.last + 1 if section else bar + 1
        return sections

    def _section_at(self, first: int, bar: int) -> Section | None:
        """The section from `first` on whose endings begin at `bar`, or which a sign at its end closes."""
        if bar in self._drawn:
            return self._with_endings(first, self._side_by_side(self._drawn[bar]))
        times = self._marks[bar].repeat_end
        return Section(first=first, last=bar, times=times) if times else None

    def _opening(self, first: int, bar: int, last: int) -> int:
        """Where a section opens whose sign, or first ending, stands at `bar`.

        Engravers leave the opening sign out behind a double bar line, and ABC 2.1 sends players back to one; a few bars
        may be set off for the eye alone.
        """
        if self._marks[first].repeat_start:
            return first
        divided = [at for at in range(first + 1, bar + 1) if self._marks[at - 1].divides or self._marks[at].section]
        if not divided:
            return first
        behind_fine = any(mark.fine for mark in self._marks[first : divided[-1]])
        over = behind_fine or last - divided[-1] + 1 < LEAST_BARS_REPEATED
        doubt = OrderDoubt.OVER_DIVISION if over else OrderDoubt.DIVISION
        return first if over != self._otherwise(doubt, bar, divided[-1]) else divided[-1]

    def _with_endings(self, first: int, brackets: Sequence[Bracket]) -> Section | None:
        numbers = self._numbered(brackets)
        times = max(number for one in numbers for number in one)
        if len(brackets) == 1:
            if not self._goes_back_alone(brackets[0]):
                return None
            # Alone with its sign it is left out the last time.
            times += 1
        return Section(
            first=first,
            last=brackets[-1].over,
            times=times,
            endings=tuple(
                Ending(first=bracket.first, last=bracket.last, numbers=of_it)
                for bracket, of_it in zip(brackets, numbers, strict=True)
            ),
            back_at=frozenset(
                (bracket.over, number) for bracket, of_it in zip(brackets, numbers, strict=True) for number in of_it
            ),
        )

    def _goes_back_alone(self, bracket: Bracket) -> bool:
        if bracket.goes_back:
            return True
        behind_sign = bracket.first > 0 and self._marks[bracket.first - 1].repeat_end
        if 1 not in bracket.numbers or behind_sign or self._sign_behind(bracket.last) is not None:
            return False
        return self._otherwise(OrderDoubt.LONE_BRACKET, bracket.first, bracket.last)

    def _side_by_side(self, bracket: Bracket) -> list[Bracket]:
        """The brackets of one section, from its first on, each with where it is over."""
        found: list[Bracket] = []
        while True:
            found.append(self._read(bracket, found))
            following = self._drawn.get(found[-1].over + 1)
            if following is None or not found[-1].goes_back or not self._goes_on(found[-1], following):
                return found
            if following.numbers == found[-1].numbers and self._otherwise(
                OrderDoubt.SAME_NUMBER, following.first, found[-1].first
            ):
                return found
            bracket = following

    def _read(self, bracket: Bracket, before: Sequence[Bracket]) -> Bracket:
        if self._marks[bracket.last].repeat_end:
            return replace(bracket, goes_back=True)
        sign = self._sign_behind(bracket.last)
        if sign is not None:
            return self._with_sign_behind(bracket, sign, before)
        following = self._bracket_behind(bracket.last)
        if following is None or not self._goes_on(bracket, following):
            return bracket
        if self._otherwise(OrderDoubt.NO_SIGN, bracket.first, following.first):
            return bracket
        last = following.first - 1
        return replace(bracket, last=last, over=last, goes_back=True)

    def _with_sign_behind(self, bracket: Bracket, sign: int, before: Sequence[Bracket]) -> Bracket:
        following = self._drawn.get(sign + 1)
        near = sign - bracket.last <= MOST_BARS_BEHIND
        reaching = replace(bracket, last=sign, over=sign, goes_back=True)
        if (following and self._goes_on(bracket, following)) or (near and not before):
            as_drawn = self._otherwise(OrderDoubt.SHORT_BRACKET, bracket.first, sign)
            return replace(reaching, last=bracket.last) if as_drawn else reaching
        if not before:
            return reaching if self._otherwise(OrderDoubt.FAR_SIGN, bracket.first, sign) else bracket
        belongs = sign - bracket.first + 1 <= before[-1].length
        if belongs != self._otherwise(OrderDoubt.LAST_BRACKET, bracket.first, sign):
            return replace(bracket, last=sign, over=sign)
        return bracket

    def _goes_on(self, bracket: Bracket, following: Bracket) -> bool:
        """Whether `following` is an ending of the same section: one that counts from the beginning again is not."""
        if self._marks[following.first].repeat_start:
            return False
        if following.numbers == bracket.numbers:
            return bool(self._marks[following.first - 1].repeat_end)
        return min(following.numbers) > min(bracket.numbers)

    def _numbered(self, brackets: Sequence[Bracket]) -> list[tuple[int, ...]]:
        """At which times through each is played: what is drawn, made to begin with 1 and to leave none out."""
        down = min(brackets[0].numbers) - 1
        numbered: list[tuple[int, ...]] = []
        for bracket in brackets:
            used = [number for one in numbered for number in one]
            numbers = tuple(number - down for number in bracket.numbers)
            if set(numbers) & set(used):
                numbers = (max(used) + 1,)
            numbered.append(numbers)
        return self._without_gaps(brackets, numbered)

    def _without_gaps(self, brackets: Sequence[Bracket], numbered: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
        used = {number for one in numbered for number in one}
        missing = [number for number in range(1, max(used)) if number not in used]
        if not missing:
            return numbered
        # The bracket behind the first gap: where one bracket has the gap within it ("2, 5"), that one.
        after = next(at for at, one in enumerate(numbered) if max(one) > missing[0])
        if self._otherwise(OrderDoubt.GAP, brackets[after].first, brackets[max(after - 1, 0)].first):
            down = {number: sum(gap < number for gap in missing) for number in used}
            return [tuple(number - down[number] for number in one) for one in numbered]
        filled = [list(one) for one in numbered]
        for number in missing:
            before = max(at for at, one in enumerate(filled) if min(one) < number)
            filled[before].append(number)
        return [tuple(sorted(one)) for one in filled]

    def _otherwise(self, doubt: OrderDoubt, bar: int, other: int) -> bool:
        """Note that there was a choice; whether the player chose the other reading."""
        self.doubts.append(FoundDoubt(doubt=doubt, bar=bar, other=other))
        return doubt in self._marks[bar].read_otherwise

    def _sign_behind(self, bar: int) -> int | None:
        """The next bar that a repeat sign closes, with no other sign of a section before it."""
        for later in range(bar + 1, len(self._marks)):
            if later in self._drawn or self._marks[later].repeat_start:
                return None
            if self._marks[later].repeat_end:
                return later
        return None

    def _bracket_behind(self, bar: int) -> Bracket | None:
        """The next bracket, where it is near and no sign of a section stands before it."""
        for later in range(bar + 1, min(bar + 2 + MOST_BARS_BEHIND, len(self._marks))):
            if later in self._drawn:
                return self._drawn[later]
            if self._marks[later].repeat_start or self._marks[later].repeat_end:
                return None
        return None
