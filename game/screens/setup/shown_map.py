"""What is seen of the player's map: what is looked at, asked for or compared, what it means for the shelf, and where it
all stands. Gestures change it, the picture is made of it.
"""

from game.coach.notes.ink_of_map import InkOfMap
from game.desk.kit.canvas import Point
from game.neck.neck_map import NeckMap
from game.player.settings import Settings
from game.screens.context import ScreenContext
from game.screens.setup.best_positions import BestPositions
from game.screens.setup.map_changes import MapChange
from game.screens.setup.map_choice import LookedAt
from game.screens.setup.map_sheet import MapSheet
from game.screens.setup.map_shelf import MapShelf, ShelfFigures
from game.screens.setup.shelf_counting import ShelfCounting
from game.tunes.library.library import offered, shelf


class ShownMap:
    """Set its fields; nothing is decided here.

    `looked` is the note that is looked at, `asked` the change that waits for an answer, `best` the positions side by
    side: None for none. With `more` all of the neck is shown. `settled_before` are the settings before the last change
    that was made here. `foot` is where the keys at the foot began in the picture drawn last, in units, and `heads` are
    the middles of the heads on its staff.
    """

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self.looked: LookedAt | None = None
        self.asked: MapChange | None = None
        self.best: BestPositions | None = None
        self.more = False
        self.settled_before: Settings | None = None
        self.foot = 0.0
        self.heads: tuple[Point, ...] = ()
        # The map whose ink was made last, and its ink: it takes as long as all the rest of the picture.
        self._inked: tuple[NeckMap, InkOfMap] | None = None
        self._counting = self._begin_to_count()

    def _begin_to_count(self) -> ShelfCounting:
        return ShelfCounting(offered(shelf(), self._context.session.opened_tunes), self.neck_map)

    def read_anew(self) -> None:
        """More may have been read, also on another computer, and there may be more tunes."""
        self._inked = None
        self._counting = self._begin_to_count()

    @property
    def neck_map(self) -> NeckMap:
        """The map as the settings have it."""
        return self._context.settings.neck_map()

    @property
    def counted(self) -> MapShelf | None:
        """The tunes of the shelf; None while they are being counted."""
        return self._counting.counted

    @property
    def shelf(self) -> MapShelf:
        """The same, waited for."""
        return self._counting.waited_for

    @property
    def before(self) -> ShelfFigures | None:
        """What the map meant for the shelf before the last change here; None where nothing was changed."""
        counted, settings = self.counted, self.settled_before
        return counted.figures(settings.neck_map()) if counted and settings else None

    @property
    def asked_figures(self) -> tuple[ShelfFigures, ShelfFigures]:
        """What the map means for the shelf now, and what it would mean with what is asked for."""
        after = self.asked.settings if self.asked else self._context.settings
        return self.shelf.figures(self.neck_map), self.shelf.figures(after.neck_map())

    def sheet(self, foot: float, neck_map: NeckMap | None = None) -> MapSheet:
        """Where everything stands, the keys at the foot beginning at `foot`; of another map than the player's, too."""
        sheet, settings = self._context.sheet, self._context.settings
        neck_map = neck_map or self.neck_map
        return MapSheet(
            size=(sheet.size[0] / sheet.unit, sheet.size[1] / sheet.unit),
            neck_map=neck_map,
            ink=self._ink(neck_map),
            looked=self.looked,
            left_handed=settings.left_handed,
            capo=settings.capo_in_use,
            more=self.more,
            foot=foot,
        )

    def _ink(self, neck_map: NeckMap) -> InkOfMap:
        if self._inked is None or self._inked[0] != neck_map:
            self._inked = neck_map, self._context.session.notes.ink(neck_map)
        return self._inked[1]
