"""Order of play: from the repeat signs, endings and jumps on the page to the bars one after another.

What the signs mean is common practice (trade), as follows. Repeat signs do not nest: `:|` goes back to the
nearest `|:` since the last `:|`, failing that to the bar after the last `:|` (or after the last ending),
failing that to the beginning. A first ending whose second has no bracket is followed by the bars after it. A
jump (D.C., D.S.) is taken once, after the repeats of its bar; from then on repeats are not taken again and
only the last ending is played, until the coda is reached, which is new music. "To Coda" and Fine act only
after a jump; on a page with no jump at all "To Coda" acts the last time through its repeat. A sign that lacks
its other half (D.S. without a segno, "To Coda" without a coda) is passed over.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from game.errors import TuneError
from game.music.score import Bar, BarMarks, Jump, Until

MAX_BARS_PLAYED = 5_000


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ending:
    """Bars `first` to `last` under one bracket with these numbers."""

    first: int
    last: int
    numbers: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Section:
    """Bars `first` to `last`, played `times` in all, with the endings that close them."""

    first: int
    last: int
    times: int
    endings: tuple[_Ending, ...] = ()

    def ending_at(self, bar: int) -> _Ending | None:
        return next((ending for ending in self.endings if ending.first <= bar <= ending.last), None)

    def ending_for(self, time_through: int) -> _Ending | None:
        """The ending played this time; None when the bars after the bracket serve as the last one."""
        for ending in self.endings:
            if time_through in ending.numbers:
                return ending
        if time_through < self.times:
            return self.endings[0]
        return self.endings[-1] if len(self.endings) > 1 or self.times == 1 else None


def order_of_play(bars: Sequence[Bar]) -> tuple[int, ...]:
    """Indices of `bars` (from 0) in the order they are played.

    Raises `TuneError` when more than 5,000 bars would be played.
    """
    played = []
    for index in _Walk([bar.marks for bar in bars]):
        played.append(index)
        if len(played) > MAX_BARS_PLAYED:
            raise TuneError("music.too_many_bars_played", limit=MAX_BARS_PLAYED)
    return tuple(played)


class _Walk:
    """One walk through the marks: which time through, which jumps are spent, where the player is heading."""

    def __init__(self, marks: Sequence[BarMarks]) -> None:
        self._marks = marks
        sections = _sections(_with_endings_closed(marks))
        self._section_of = {bar: section for section in sections for bar in range(section.first, section.last + 1)}
        self._jumps_at_all = any(mark.jump for mark in marks)
        self._spent: set[int] = set()
        self._section: _Section | None = None
        self._time_through = 1
        self._returned = False
        self._repeats_taken = True
        self._heading: Until | None = None

    def __iter__(self) -> Iterator[int]:
        bar: int | None = 0
        while bar is not None and bar < len(self._marks):
            self._enter(bar)
            beyond = self._passed_over(bar)
            if beyond is not None:
                bar = beyond
                continue
            yield bar
            bar = self._after(bar)

    def _enter(self, bar: int) -> None:
        section = self._section_of.get(bar)
        if section is not self._section:
            self._section = section
            self._time_through = 1 if self._repeats_taken or section is None else section.times

    def _passed_over(self, bar: int) -> int | None:
        """The bar to go on with when this one stands under an ending that is not for this time."""
        if self._section is None:
            return None
        ending = self._section.ending_at(bar)
        if ending is None or ending == self._section.ending_for(self._time_through):
            return None
        return ending.last + 1

    def _after(self, bar: int) -> int | None:
        """The bar after `bar`, None at the end of the music."""
        mark = self._marks[bar]
        coda = self._coda_from(bar) if mark.to_coda else None
        if coda is not None:
            return self._go_to_coda(bar, coda)
        if mark.fine and self._returned and self._heading is not Until.CODA:
            return None
        section = self._section
        again = section is not None and self._time_through < section.times
        if section and again and mark.repeat_end:
            return self._again(section)
        target = self._target(bar, mark.jump) if mark.jump and bar not in self._spent else None
        if target is not None:
            return self._jump(bar, target, mark.until)
        # The sign that closes a first ending is often left out: the next ending's bracket says as much.
        if section and again and any(ending.last == bar for ending in section.endings):
            return self._again(section)
        return bar + 1

    def _again(self, section: _Section) -> int:
        self._time_through += 1
        return section.first

    def _jump(self, bar: int, target: int, until: Until | None) -> int:
        self._spent.add(bar)
        self._returned, self._repeats_taken, self._heading = True, False, until
        self._section = None
        return target

    def _go_to_coda(self, bar: int, coda: int) -> int:
        self._spent.add(bar)
        self._repeats_taken, self._heading = True, None
        self._section = None
        return coda

    def _coda_from(self, bar: int) -> int | None:
        """Where "To Coda" leads from here, None when it does not act now."""
        if bar in self._spent:
            return None
        if self._jumps_at_all:
            acts = self._returned and self._heading is not Until.FINE
        else:
            acts = self._section is not None and 1 < self._section.times == self._time_through
        if not acts:
            return None
        codas = [index for index, mark in enumerate(self._marks) if mark.coda]
        return next((index for index in codas if index > bar), codas[0] if codas else None)

    def _target(self, bar: int, jump: Jump) -> int | None:
        if jump is Jump.DA_CAPO:
            return 0
        signs = [index for index, mark in enumerate(self._marks) if mark.segno]
        return next((index for index in reversed(signs) if index <= bar), signs[0] if signs else None)


def _with_endings_closed(marks: Sequence[BarMarks]) -> list[BarMarks]:
    """An opening sign ends a bracket that nobody closed."""
    closed = []
    run_over = False
    for mark in marks:
        run_over = (run_over or mark.repeat_start) and bool(mark.endings) and not mark.ending_starts
        closed.append(replace(mark, endings=()) if run_over else mark)
    return closed


def _sections(marks: Sequence[BarMarks]) -> list[_Section]:
    """The stretches of the page that are repeated, from left to right, none inside another."""
    sections = []
    first = bar = 0
    while bar < len(marks):
        if marks[bar].repeat_start:
            first = bar
        if marks[bar].endings:
            endings = _endings_from(marks, bar)
            sections.append(_section_with(marks, first, endings))
            first = bar = endings[-1].last + 1
            continue
        if marks[bar].repeat_end:
            sections.append(_Section(first=first, last=bar, times=marks[bar].repeat_end))
            first = bar + 1
        bar += 1
    return sections


def _section_with(marks: Sequence[BarMarks], first: int, endings: tuple[_Ending, ...]) -> _Section:
    times = max(number for ending in endings for number in ending.numbers)
    if len(endings) == 1:
        # Alone with its sign it is left out the last time; alone without one it is only a bracket.
        times = times + 1 if marks[endings[0].last].repeat_end else 1
    return _Section(first=first, last=endings[-1].last, times=times, endings=endings)


def _endings_from(marks: Sequence[BarMarks], bar: int) -> tuple[_Ending, ...]:
    """The brackets that stand side by side from `bar` on."""
    endings: list[_Ending] = []
    start = bar
    while bar < len(marks) and marks[bar].endings and (bar == start or not marks[bar].repeat_start):
        numbers = marks[bar].endings
        last = endings[-1] if endings else None
        if last is None or marks[bar].ending_starts or numbers != last.numbers or marks[bar - 1].repeat_end:
            if last is not None and min(numbers) <= min(last.numbers):
                break  # Counting from the beginning again: the brackets of another section.
            last = _Ending(first=bar, last=bar, numbers=numbers)
            endings.append(last)
        endings[-1] = _Ending(first=last.first, last=bar, numbers=numbers)
        bar += 1
    return tuple(endings)
