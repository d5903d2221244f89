"""The small pages of the tunes in sight, looked up as they come in sight: a shelf may hold a thousand tunes."""

from collections.abc import Iterable

from game.coach.marks import Mark
from game.desk.kit.small_page import PageMark
from game.player.tune_pages import Records, TunePages, pages_of_tune
from game.screens.context import ScreenContext
from game.tunes.library.library import ShelfEntry

_A_FRAME_S = 0.03
"""So long it may take at once: long tunes come with the next pictures."""

_ORDER = ((Mark.SIGNED_OFF, PageMark.SIGNED_OFF), (Mark.IN_TIME, PageMark.IN_TIME), (Mark.FOUND, PageMark.FOUND))


class ShelfPages:
    """The pages that were looked up so far."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._known: dict[ShelfEntry, TunePages] = {}

    def look_up(self, entries: Iterable[ShelfEntry]) -> bool:
        """Look up the pages of these tunes as far as there is time; returns whether all are known now."""
        clock, neck_map = self._context.clock, self._context.settings.neck_map()
        until_s = clock.now_s() + _A_FRAME_S
        for entry in entries:
            if entry in self._known:
                continue
            if clock.now_s() >= until_s:
                return False
            self._known[entry] = pages_of_tune(entry, neck_map)
        return True

    def of(self, entry: ShelfEntry) -> TunePages | None:
        """The pages of a tune; None as long as they were not looked up."""
        return self._known.get(entry)

    def at_once(self, entry: ShelfEntry) -> TunePages:
        """The pages of a tune, looked up now if need be."""
        if entry not in self._known:
            self._known[entry] = pages_of_tune(entry, self._context.settings.neck_map())
        return self._known[entry]

    @property
    def records(self) -> Records:
        """What was practised, by passage."""
        return self._context.session.coach.state.records


def page_mark(earned: frozenset[Mark]) -> PageMark:
    """How a small page is filled for the marks that its bars have earned."""
    return next((shown for mark, shown in _ORDER if mark in earned), PageMark.NONE)
