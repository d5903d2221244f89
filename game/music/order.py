"""Order of play: from the repeat signs, endings and jumps on the page to the bars one after another.

What the signs mean is common practice (trade), as follows. Repeat signs do not nest: `:|` goes back to the nearest
`|:` since the last `:|`, failing that to the last double bar line or section since then, failing that to the bar
after the last `:|` (or after the last ending), failing that to the beginning. A first ending whose second has no
bracket is followed by the bars after it. A jump (D.C., D.S.) is taken once, after the repeats of its bar; from then
on repeats are not taken again and only the last ending is played, until new music is reached: the coda, or the bars
behind the jump. "To Coda" and Fine act only after a jump; on a page with no jump at all they act the last time
through a repeat, Fine through one that ends the page. A sign that lacks its other half (D.S. without a segno, "To
Coda" without a coda) is passed over. Where a page leaves more than one reading open, `doubts_of` tells which was
taken, and the player may choose the other.
"""

from collections.abc import Iterator, Sequence

from game.errors import TuneError
from game.music.jumps import EndSigns, jump_target, with_jumps_meant
from game.music.score import Bar, BarMarks, Until
from game.music.sections import FoundDoubt, Section, sections_of

MAX_BARS_PLAYED = 5_000


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


def doubts_of(bars: Sequence[Bar]) -> tuple[FoundDoubt, ...]:
    """Every place where the reading of the signs had to choose, whether or not the order depends on it."""
    return tuple(_Walk([bar.marks for bar in bars]).doubts)


class _Walk:
    """One walk through the marks: which time through, which jumps are spent, where the player is heading."""

    def __init__(self, marks: Sequence[BarMarks]) -> None:
        meant, of_jumps = with_jumps_meant(marks)
        sections, of_sections = sections_of(meant)
        self._marks = meant
        self._section_of = {bar: section for section in sections for bar in range(section.first, section.last + 1)}
        self._end_signs = EndSigns(meant, sections)
        self.doubts = sorted((*of_jumps, *of_sections, *self._end_signs.doubts), key=lambda found: found.bar)
        self._spent: set[int] = set()
        self._section: Section | None = None
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
            once = section is not None and not self._repeats_taken
            self._time_through = self._end_signs.time_after_jump(section, self._heading) if section and once else 1

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
        if mark.fine and self._fine_acts(bar):
            return None
        back = self._section is not None and self._section.goes_back(bar, self._time_through)
        if back and mark.repeat_end:
            return self._again()
        target = jump_target(self._marks, bar) if mark.jump else None
        if target is not None and bar not in self._spent:
            return self._jump(bar, target, mark.until)
        # Behind a jump that was taken already the music is new.
        self._repeats_taken = self._repeats_taken or target is not None
        # The sign that closes a first ending is often left out: the next ending's bracket says as much.
        return self._again() if back else bar + 1

    def _again(self) -> int:
        assert self._section is not None
        self._time_through += 1
        return self._section.first

    def _jump(self, bar: int, target: int, until: Until | None) -> int:
        self._spent.add(bar)
        self._returned, self._repeats_taken, self._heading = True, False, until
        self._section = None
        return target

    def _go_to_coda(self, bar: int, coda: int) -> int:
        self._spent.add(bar)
        self._repeats_taken, self._heading = True, None
        self._section = self._section_of.get(coda)
        ending = self._section.ending_at(coda) if self._section else None
        # Into the midst of an ending one comes as the player who is at that time through.
        self._time_through = max(ending.numbers) if ending else 1
        return coda

    def _coda_from(self, bar: int) -> int | None:
        """Where "To Coda" leads from here, None when it does not act now."""
        if bar in self._spent:
            return None
        if self._end_signs.jumps_at_all:
            acts = self._returned and self._heading is not Until.FINE
        else:
            acts = self._end_signs.ends_repeat(bar, self._section, self._time_through)
        if not acts:
            return None
        codas = [index for index, mark in enumerate(self._marks) if mark.coda]
        return next((index for index in codas if index > bar), codas[0] if codas else None)

    def _fine_acts(self, bar: int) -> bool:
        if self._end_signs.jumps_at_all:
            return self._returned and self._heading is not Until.CODA
        last = self._end_signs.ends_page(self._section)
        return last and self._end_signs.ends_repeat(bar, self._section, self._time_through)
