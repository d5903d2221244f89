"""The small pages of the tunes in sight, looked up as they come in sight, and where the hand goes in the chosen one: a
shelf may hold a thousand tunes.
"""

from collections.abc import Iterable

from game.coach.marks import Mark
from game.desk.kit.small_page import PageMark
from game.errors import HomefretError
from game.message import Message
from game.music.at_reading import at_reading
from game.neck.neck_map import NeckMap
from game.player.tune_pages import Records, TunePages, pages_of_tune
from game.screens.choosing.hand_in_words import hand_told
from game.screens.context import ScreenContext
from game.tunes.library.library import open_entry
from game.tunes.library.shelf_entry import ShelfEntry

_A_FRAME_S = 0.03
"""So long it may take at once: long tunes come with the next pictures."""

# The line at the foot has room for few.
_SHIFTS_TOLD = 2, 1

_ORDER = ((Mark.SIGNED_OFF, PageMark.SIGNED_OFF), (Mark.IN_TIME, PageMark.IN_TIME), (Mark.FOUND, PageMark.FOUND))


class ShelfPages:
    """The pages that were looked up so far."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self._known: dict[ShelfEntry, TunePages] = {}
        self._hands: dict[ShelfEntry, tuple[Message, ...]] = {}
        self._hands_on: NeckMap | None = None

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

    def hand_in(self, entry: ShelfEntry) -> tuple[Message, ...]:
        """Where the hand goes in a tune on the map of now, said at length and in short; nothing where it stays, and
        of a tune that cannot be opened.
        """
        neck_map = self._context.settings.neck_map()
        if neck_map != self._hands_on:
            self._hands, self._hands_on = {}, neck_map
        if entry not in self._hands:
            self._hands[entry] = _hand_in(entry, neck_map)
        return self._hands[entry]

    @property
    def records(self) -> Records:
        """What was practised, by passage."""
        return self._context.session.coach.state.records


def page_mark(earned: frozenset[Mark]) -> PageMark:
    """How a small page is filled for the marks that its bars have earned."""
    return next((shown for mark, shown in _ORDER if mark in earned), PageMark.NONE)


def _hand_in(entry: ShelfEntry, neck_map: NeckMap) -> tuple[Message, ...]:
    """A tune whose notes lie in one position is not opened for it."""
    within = {home.sounding for home in neck_map.homes if not home.outlying}
    pitches = (sounding for sounding, _ in entry.sounding(neck_map.reading, neck_map.places))
    if neck_map.second is None and within.issuperset(pitches):
        return ()
    try:
        score = at_reading(open_entry(entry), neck_map.reading, neck_map.places)
    except HomefretError:
        return ()
    told = (hand_told(score, neck_map, most) for most in _SHIFTS_TOLD)
    return tuple(one for one in told if one is not None)
