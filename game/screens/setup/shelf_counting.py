"""The tunes of the shelf counted for a map: at once where that is soon done, else beside the picture."""

from collections.abc import Sequence
from typing import Final

from game.neck.neck_map import NeckMap
from game.screens.setup.answered_beside import AnsweredBeside
from game.screens.setup.map_shelf import MapShelf
from game.tunes.library.shelf_entry import ShelfEntry

_FEW_TUNES: Final = 250
"""So many tunes are counted before the next frame is due, if what is to be counted was kept with each."""


class ShelfCounting:
    """Begun when it is made."""

    def __init__(self, entries: Sequence[ShelfEntry], neck_map: NeckMap) -> None:
        self._counted: MapShelf | None = None
        self._counting: AnsweredBeside[MapShelf] | None = None
        if len(entries) <= _FEW_TUNES and all(entry.pairs for entry in entries):
            self._counted = MapShelf(entries, neck_map)
        else:
            self._counting = AnsweredBeside(lambda: MapShelf(entries, neck_map))

    @property
    def counted(self) -> MapShelf | None:
        """The tunes of the shelf; None while they are being counted."""
        if self._counting is not None and not self._counting.there:
            return None
        return self.waited_for

    @property
    def waited_for(self) -> MapShelf:
        """The same, waited for."""
        if self._counting is not None:
            self._counted, self._counting = self._counting.answer(), None
        assert self._counted is not None
        return self._counted
