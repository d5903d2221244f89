"""Which bars a player has met and heard up to some take, while their log is gone through in order."""

import sqlite3
from collections import Counter
from collections.abc import Iterable

from game.practice_log.queries.bars_met import SharedBars, shared_bars, times_met
from game.practice_log.queries.entry_order import Position
from game.practice_log.queries.stretch_tables import StretchTables
from game.practice_log.rows.bar_contents import Stretch


class BarsSoFar:
    """What the sums of the log know by now, from table `sighting` and those beside it, looked up when it is needed.

    Bars whose file was read anew (`rename`) are from then on the bars that they are now: what was met and heard of them
    before goes on there, and so does whoever still asks the old ones.
    """

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection
        self.tables = StretchTables(connection)
        self._sharing: dict[Stretch, list[tuple[int, SharedBars]]] = {}
        self._played: dict[int, Counter[int]] = {}
        self._asked: dict[tuple[int, int, int], int] = {}
        self._renamed: dict[int, int] = {}
        rows = "SELECT old, new FROM summaries.renamed ORDER BY moment_us, device, sequence, at_us"
        for old, new in connection.execute(rows):
            self._put_renamed(old, new)
        self._heard = {number for (number,) in connection.execute("SELECT DISTINCT stretch FROM summaries.heard")}

    def times_met(self, stretch: Stretch) -> int:
        """How many takes came to that bar of a stretch that was met most often."""
        stretch = self._as_it_is_now(stretch)
        takes = ((shared, self._takes_of(number)) for number, shared in self._sharing_with(stretch))
        return times_met(len(stretch.bars), takes)

    def were_heard(self, stretch: Stretch) -> bool:
        """Whether bars of a stretch were played to the player."""
        if not self._heard:
            return False
        heard = {self._now(number) for number in self._heard}
        return any(number in heard for number, _ in self._sharing_with(self._as_it_is_now(stretch)))

    def play(self, number: int, reached: int) -> None:
        """Another take of a stretch is in table `sighting`, or will be before anything is asked again."""
        if number in self._played:
            self._played[number][reached] += 1

    def hear(self, number: int, position: Position) -> None:
        """A stretch was played to the player."""
        self._connection.execute("INSERT INTO summaries.heard VALUES (?, ?, ?, ?, ?)", (number, *position))
        self._heard.add(number)

    def rename(self, old: int, new: int, position: Position) -> None:
        """A stretch is another from now on."""
        self._connection.execute("INSERT INTO summaries.renamed VALUES (?, ?, ?, ?, ?, ?)", (old, new, *position))
        self._put_renamed(old, new)
        self._sharing.clear()

    def number_of(self, stretch: Stretch) -> int:
        """The number of a stretch, which may be new."""
        return self._noted(self.tables.number_of(stretch))

    def number_of_asked(self, asked: int, start: int, stop: int) -> int:
        """The number of the stretch that a take asked."""
        which = (asked, start, stop)
        if which not in self._asked:
            self._asked[which] = self._noted(self.tables.number_of_asked(*which))
        return self._asked[which]

    def _noted(self, number: int) -> int:
        """Whatever is known of stretches that share bars with this one is looked up again, if it lacks this one."""
        stretch = self.tables.stretch(number)
        if stretch not in self._sharing:
            alike = self.tables.like(stretch)
            for like in alike:
                self._sharing.pop(self.tables.stretch(like), None)
            self._sharing[stretch] = self._shared_by(stretch, alike)
        return number

    def _put_renamed(self, old: int, new: int) -> None:
        if old != new:
            self._renamed.pop(new, None)
            self._renamed[old] = new

    def _now(self, number: int) -> int:
        while number in self._renamed:
            number = self._renamed[number]
        return number

    def _as_it_is_now(self, stretch: Stretch) -> Stretch:
        if not self._renamed:
            return stretch
        return self.tables.stretch(self._now(self.tables.number_of(stretch)))

    def _sharing_with(self, stretch: Stretch) -> list[tuple[int, SharedBars]]:
        if stretch in self._sharing:
            return self._sharing[stretch]
        alike = self.tables.like(stretch)
        found = self._shared_by(stretch, alike)
        if any(self.tables.stretch(number) == stretch for number in alike):
            # Only what has a number is found by those that come after it.
            self._sharing[stretch] = found
        return found

    def _shared_by(self, stretch: Stretch, alike: Iterable[int]) -> list[tuple[int, SharedBars]]:
        """Those of these stretches that share bars with one, and which."""
        both = ((number, shared_bars(stretch, self.tables.stretch(number))) for number in alike)
        return [(number, shared) for number, shared in both if shared is not None and number not in self._renamed]

    def _takes_of(self, number: int) -> Counter[int]:
        """How many takes reached how many bars of a stretch, those included that asked bars which are this one now."""
        of_others = [old for old in self._renamed if self._now(old) == number]
        if not of_others:
            return self._takes_that_asked(number)
        bars, reached = len(self.tables.stretch(number).bars), Counter(self._takes_that_asked(number))
        for old in of_others:
            had = len(self.tables.stretch(old).bars)
            for upto, often in self._takes_that_asked(old).items():
                reached[bars if upto >= had else min(upto, bars)] += often
        return reached

    def _takes_that_asked(self, number: int) -> Counter[int]:
        if number not in self._played:
            rows = self._connection.execute(
                "SELECT reached, COUNT(*) FROM summaries.sighting WHERE stretch = ? GROUP BY reached", (number,)
            )
            self._played[number] = Counter(dict(rows))
        return self._played[number]
