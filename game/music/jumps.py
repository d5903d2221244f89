"""Jumps, Fine and To Coda as they are meant where the page leaves it open, and where that was a choice."""

from collections.abc import Sequence
from dataclasses import replace

from game.music.score import BarMarks, Jump, OrderDoubt, Until
from game.music.sections import FoundDoubt, Section

MOST_BARS_LOST = 4
"""How many bars between a jump and what comes next may have been left behind it by mistake."""


def jump_target(marks: Sequence[BarMarks], bar: int) -> int | None:
    """Where the jump at the end of `bar` leads, None where it lacks its segno."""
    if marks[bar].jump is Jump.DA_CAPO:
        return 0
    signs = [index for index, mark in enumerate(marks) if mark.segno]
    return next((index for index in reversed(signs) if index <= bar), signs[0] if signs else None)


def with_jumps_meant(marks: Sequence[BarMarks]) -> tuple[list[BarMarks], list[FoundDoubt]]:
    """The marks with each jump where it is taken and each repeat sign that is only its shadow left out, and where there
    was a choice.
    """
    meant, doubts = list(marks), list[FoundDoubt]()
    for bar, mark in enumerate(marks):
        if mark.jump is None:
            continue
        if mark.repeat_end and jump_target(marks, bar) == _opening(marks, bar):
            doubts.append(FoundDoubt(doubt=OrderDoubt.REPEAT_AND_JUMP, bar=bar, other=bar))
            if OrderDoubt.REPEAT_AND_JUMP in mark.read_otherwise:
                meant[bar] = replace(mark, repeat_end=0)
        lost = _lost_behind(marks, bar)
        if lost is not None:
            doubts.append(lost)
            usual = lost.doubt is OrderDoubt.EARLY_JUMP
            if usual != (lost.doubt in mark.read_otherwise):
                meant[bar] = replace(meant[bar], jump=None, until=None)
                meant[lost.other] = replace(meant[lost.other], jump=mark.jump, until=mark.until)
    return meant, doubts


def _opening(marks: Sequence[BarMarks], bar: int) -> int:
    """Where the repeat sign at the end of `bar` goes back to, endings apart."""
    for earlier in range(bar, -1, -1):
        if marks[earlier].repeat_start:
            return earlier
        if earlier < bar and marks[earlier].repeat_end:
            return earlier + 1
    return 0


def _lost_behind(marks: Sequence[BarMarks], bar: int) -> FoundDoubt | None:
    """The doubt about a few plain bars behind the jump of `bar`, up to the coda or the end."""
    target = jump_target(marks, bar)
    again = marks[target : bar + 1] if target is not None else ()
    for last in range(bar + 1, min(bar + 1 + MOST_BARS_LOST, len(marks))):
        mark = marks[last]
        plain = not (mark.endings or mark.repeat_start or mark.repeat_end or mark.segno or mark.coda or mark.jump)
        if not plain or mark.fine or mark.to_coda:
            return None
        # Where nothing ends the music before, or leaves it for the coda, these bars are played in the end.
        if last + 1 == len(marks):
            ends = marks[bar].until is not Until.CODA and any(mark.fine for mark in again)
            return FoundDoubt(doubt=OrderDoubt.BARS_BEHIND_JUMP, bar=bar, other=last) if ends else None
        if marks[last + 1].coda:
            leaves = marks[bar].until is not Until.FINE and any(mark.to_coda for mark in again)
            return FoundDoubt(doubt=OrderDoubt.EARLY_JUMP, bar=bar, other=last) if leaves else None
    return None


class EndSigns:
    """Where Fine and To Coda act, on a page without a jump and in its endings after one."""

    def __init__(self, marks: Sequence[BarMarks], sections: Sequence[Section]) -> None:
        self._marks = marks
        self._sections = sections
        self.jumps_at_all = any(mark.jump for mark in marks)
        self.doubts: list[FoundDoubt] = []
        self._in_endings = {section.first: self._ending_to_leave_by(section) for section in sections}
        if not self.jumps_at_all:
            self._find_signs_without_jump()

    def time_after_jump(self, section: Section, heading: Until | None) -> int:
        """As which time through `section` is played after a jump: the last, or that whose ending holds the sign."""
        sign = self._in_endings.get(section.first)
        ending = section.ending_at(sign) if sign is not None else None
        if sign is None or ending is None or not self._obeyed(sign, heading):
            return section.times
        return ending.numbers[0]

    def _obeyed(self, bar: int, heading: Until | None) -> bool:
        mark = self._marks[bar]
        return (mark.fine and heading is not Until.CODA) or (mark.to_coda and heading is not Until.FINE)

    def ends_repeat(self, bar: int, section: Section | None, time_through: int) -> bool:
        """Whether Fine or To Coda of `bar` acts this time, on a page without a jump."""
        alone = {OrderDoubt.FINE_ALONE, OrderDoubt.TO_CODA_ALONE}
        if section is None or alone & set(self._marks[bar].read_otherwise):
            return False
        return 1 < section.times == time_through

    def ends_page(self, section: Section | None) -> bool:
        """Whether `section` is the last of the page, so that Fine in it leaves nothing unplayed."""
        return section is not None and section.last == len(self._marks) - 1

    def _find_signs_without_jump(self) -> None:
        codas = any(mark.coda for mark in self._marks)
        for section in self._sections:
            for bar in range(section.first, section.last + 1):
                mark = self._marks[bar]
                if mark.to_coda and codas:
                    self._doubt(OrderDoubt.TO_CODA_ALONE, bar, section.last)
                if mark.fine and self.ends_page(section):
                    self._doubt(OrderDoubt.FINE_ALONE, bar, section.last)

    def _ending_to_leave_by(self, section: Section) -> int | None:
        """The bar of Fine or To Coda that stands in no other place than an ending before the last."""
        if not self.jumps_at_all or len(section.endings) < 2:
            return None
        earlier = {bar for ending in section.endings[:-1] for bar in range(ending.first, ending.last + 1)}
        for sign in ("to_coda", "fine"):
            bars = [bar for bar, mark in enumerate(self._marks) if getattr(mark, sign)]
            if bars and set(bars) <= earlier:
                self._doubt(OrderDoubt.FINE_IN_ENDING, bars[0], section.endings[-1].first)
                if OrderDoubt.FINE_IN_ENDING not in self._marks[bars[0]].read_otherwise:
                    return bars[0]
        return None

    def _doubt(self, doubt: OrderDoubt, bar: int, other: int) -> None:
        self.doubts.append(FoundDoubt(doubt=doubt, bar=bar, other=other))
