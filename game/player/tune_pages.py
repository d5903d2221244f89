"""The pages of a tune, one for each of its passages, and what the reading of each has earned."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from game.coach.marks import Mark
from game.errors import HomefretError
from game.music.at_reading import at_reading
from game.music.passage import passages_of, whole_tune
from game.music.written import written_out
from game.neck.neck_map import NeckMap
from game.practice_log.rows.passage_key import passage_key
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry

if TYPE_CHECKING:
    # Brings arrays with it, which the first frame does without.
    from game.coach.records import PassageRecord

Records = Mapping[str, "PassageRecord"]
"""What the coach remembers, by the names of passages, in the order in which they came last."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TunePage:
    """Some bars of a tune: the name by which their practice is known, and the first and last bar as printed. A pickup
    goes with the bar after it, without a number. `index` is the how-manieth of the passages it is, from 0.
    """

    key: str
    first: str
    last: str
    index: int


@dataclass(frozen=True, slots=True, kw_only=True)
class TunePages:
    """The pages of a tune in order, and the name of the whole of it. A tune that cannot be opened has none."""

    pages: tuple[TunePage, ...] = ()
    whole: str = ""

    def marks(self, records: Records) -> tuple[frozenset[Mark], ...]:
        """What each page has earned: by itself, or when the whole tune was played."""
        of_whole = _marks(records, self.whole)
        return tuple(of_whole | _marks(records, page.key) for page in self.pages)

    def read(self, records: Records) -> tuple[bool, ...]:
        """Which pages were right when they were read at sight: what can be played is not yet read."""
        whole = _was_read(records, self.whole)
        return tuple(whole or _was_read(records, page.key) for page in self.pages)

    def signed(self, records: Records) -> frozenset[str]:
        """The names of the pages that are signed off."""
        marks = zip(self.pages, self.marks(records), strict=True)
        return frozenset(page.key for page, earned in marks if Mark.SIGNED_OFF in earned)

    def all_signed(self, records: Records) -> bool:
        """Whether every page is signed off, and there are any."""
        signed = self.signed(records)
        return bool(self.pages) and all(page.key in signed for page in self.pages)

    def begun(self, records: Records) -> bool:
        """Whether any page of it was practised."""
        return any(_practised(records, page.key) for page in self.pages)

    def next_page(self, records: Records) -> int:
        """The page to go on with, from 0: the one practised last that is not signed off, else the first that is not;
        the first one where all are.
        """
        signed = self.signed(records)
        left = [number for number, page in enumerate(self.pages) if page.key not in signed]
        order = {key: at for at, key in enumerate(records)}
        under_way = [number for number in left if _practised(records, self.pages[number].key)]
        if under_way:
            return max(under_way, key=lambda number: order[self.pages[number].key])
        return left[0] if left else 0


def pages_of_tune(entry: ShelfEntry, neck_map: NeckMap) -> TunePages:
    """The pages of a tune as it is read on a map; none of one that cannot be opened."""
    try:
        score = written_out(at_reading(open_entry(entry), neck_map.reading, neck_map.places))
    except HomefretError:
        return TunePages()
    pages: dict[tuple[str, str, str], TunePage] = {}
    for index, passage in enumerate(passages_of(score)):
        first, last = passage.said_bars
        key = passage_key(passage)
        # Bars that are played again are one page, though chords or words may be others then.
        pages.setdefault((key, first, last), TunePage(key=key, first=first, last=last, index=index))
    return TunePages(pages=tuple(pages.values()), whole=passage_key(whole_tune(score)))


def _marks(records: Records, key: str) -> frozenset[Mark]:
    return frozenset(records[key].marks) if key in records else frozenset()


def _was_read(records: Records, key: str) -> bool:
    return key in records and records[key].read_day is not None


def _practised(records: Records, key: str) -> bool:
    return key in records and records[key].practised_day is not None
