"""What of the shelf is shown, in which order, and which tune of it is chosen."""

from game.music.tune_kind import TuneKind
from game.player.session import ShelfView
from game.screens.choosing.shelf_words import search_in_words
from game.screens.context import ScreenContext
from game.text.catalogue import say
from game.tunes.library.library import offered, shelf
from game.tunes.library.shelf_entry import ShelfEntry
from game.tunes.library.shelf_order import ShelfOrder, found, newest_first, ordered


class ShelfList:
    """The tunes in sight. `entries` are those that were searched for, in the order that is wanted; `chosen` counts from
    0 among them; `slow` is how slow the notes are to find where the order asks for it.
    """

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self.on_shelf: tuple[ShelfEntry, ...] = ()
        self.entries: tuple[ShelfEntry, ...] = ()
        self.slow: dict[int, float] = {}
        self.chosen = 0
        self.read_shelf()
        self.show()

    @property
    def words(self) -> str:
        """What is searched for, empty for everything."""
        return self._context.session.shelf_view.words

    @property
    def order(self) -> ShelfOrder:
        """What they are sorted by."""
        return self._context.session.shelf_view.order

    @property
    def new(self) -> frozenset[str]:
        """The names of the tunes that were imported last."""
        last = self._context.window.imports.last
        return frozenset(entry.name for entry in last.entries) if last else frozenset()

    @property
    def entry(self) -> ShelfEntry | None:
        """The tune that is chosen."""
        return self.entries[self.chosen] if self.entries else None

    def read_shelf(self) -> None:
        """Look again what is there."""
        self.on_shelf = offered(shelf(), self._context.session.opened_tunes)

    def show(self, *, words: str | None = None, order: ShelfOrder | None = None) -> None:
        """Show what is wanted of the shelf, in the order that is wanted; the first of it is chosen."""
        session = self._context.session
        session.shelf_view = ShelfView(
            words=self.words if words is None else words, order=self.order if order is None else order
        )
        neck_map = self._context.settings.neck_map()
        # All that was ever played is looked through once, and only where the order asks for it.
        asked = self.order is ShelfOrder.NEXT
        self.slow = dict.fromkeys((slow.key.sounding for slow in session.notes.slow(neck_map)), 1.0) if asked else {}
        seen = session.log.facts.opened_tunes if asked else frozenset()
        here = found(self.on_shelf, self.words, {TuneKind.LEAD_SHEET: say("shelf.lead_sheet")})
        entries = ordered(here, self.order, neck_map, weights=self.slow, seen=seen)
        self.entries = newest_first(entries, self.order, self.new)
        self.chosen = 0

    def show_anew(self) -> None:
        """The order may be another by what is known now; the same tune stays chosen."""
        chosen = self.entry
        self.show()
        self.choose(chosen)

    def choose(self, entry: ShelfEntry | None) -> None:
        """Choose a tune; the first where it is not among those shown."""
        self.chosen = self.entries.index(entry) if entry in self.entries else 0

    def move(self, by: int) -> None:
        """Choose another, so many rows further down; the ends stop."""
        if self.entries:
            self.chosen = max(0, min(len(self.entries) - 1, self.chosen + by))

    def where(self, *, typing: bool) -> str:
        """What is searched for, and the how-manieth tune of how many is chosen."""
        count = len(self.entries)
        return search_in_words(self.words, at=min(self.chosen + 1, count), count=count, typing=typing)
