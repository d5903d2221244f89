"""Which page of a tune on the shelf would be opened: the one that was picked, or where the reading goes on; and the
row in which it stands.
"""

from game.neck.neck_map import NeckMap
from game.screens.choosing.shelf_list import ShelfList
from game.screens.choosing.shelf_pages import ShelfPages, page_mark
from game.screens.choosing.shelf_rows import ShelfRow
from game.screens.choosing.shelf_words import beside_title
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry


class ShelfChoice:
    """A page that was picked is that of the tune chosen in the list, until another is chosen."""

    def __init__(self, shelf_list: ShelfList, pages: ShelfPages) -> None:
        self._list, self._pages = shelf_list, pages
        self._picked: int | None = None

    def page_of(self, entry: ShelfEntry) -> int:
        """The page of a tune that would be opened, from 0."""
        if self._picked is not None and entry == self._list.entry:
            return self._picked
        pages = self._pages.of(entry)
        return pages.next_page(self._pages.records) if pages else 0

    def pick(self, page: int) -> None:
        """A page of the chosen tune; the ends stop."""
        entry = self._list.entry
        if entry is not None:
            self._picked = max(0, min(len(self._pages.at_once(entry).pages) - 1, page))

    def pick_next(self, by: int) -> None:
        """Another page of the chosen tune, so many further on."""
        entry = self._list.entry
        if entry is not None:
            self.pick(self.page_of(entry) + by)

    def forget(self) -> None:
        """Another tune is chosen."""
        self._picked = None

    def corner(self, entry: ShelfEntry) -> tuple[str, str]:
        """What opening it is called, and which bars these are; nothing of the bars as long as they are not known."""
        pages = self._pages.of(entry)
        begun = pages is not None and pages.begun(self._pages.records)
        page = pages.pages[self.page_of(entry)] if pages and pages.pages else None
        bars = say("shelf.bars", first=page.first, last=page.last) if page else ""
        return say("shelf.go_on" if begun else "shelf.open"), bars

    def row(self, number: int, entry: ShelfEntry, neck_map: NeckMap) -> ShelfRow:
        """A tune in the how-manieth row in sight, from 0, with what is known of its pages so far."""
        pages = self._pages.of(entry)
        # Only then: the first picture of the shelf does without the log.
        marks, read = (pages.marks(self._pages.records), pages.read(self._pages.records)) if pages else ((), ())
        return ShelfRow(
            row=number,
            entry=entry,
            beside=beside_title(entry, self._list.order, neck_map, self._list.slow),
            pages=tuple(map(page_mark, marks)),
            read=frozenset(at for at, was_read in enumerate(read) if was_read),
            at=self.page_of(entry),
            chosen=entry == self._list.entry,
            picked=self._picked is not None and entry == self._list.entry,
            new=entry.name in self._list.new,
        )
