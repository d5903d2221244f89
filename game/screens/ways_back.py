"""Where Esc leads: to the place one came from, and from a tab to Today."""

from dataclasses import dataclass

from game.screens.routes import (
    Back,
    Leave,
    Route,
    ToAssigned,
    ToFreshLine,
    ToMarking,
    ToPage,
    ToPlacing,
    ToPlanned,
    ToResult,
    ToSibling,
    ToSigning,
    ToToday,
    ToUnseenLine,
)
from game.screens.tabbed_sheet import SheetTab

_TAKES = (
    ToPage,
    ToFreshLine,
    ToUnseenLine,
    ToSibling,
    ToAssigned,
    ToPlacing,
    ToMarking,
    ToResult,
    ToSigning,
    ToPlanned,
)
"""What is played and what comes of it: nobody comes back to it, but to where it was begun."""

_TABS = tuple(tab.route for tab in SheetTab if not isinstance(tab.route, _TAKES))


@dataclass(frozen=True, slots=True)
class WaysBack:
    """The places one came by, Today first. `in_take` where the last of them is not in sight, since something is played
    that was begun there.
    """

    places: tuple[Route, ...] = (ToToday(),)
    in_take: bool = False

    def gone(self, route: Route) -> "WaysBack":
        """After going somewhere. From tab to tab nothing is remembered; a place gone to again is gone back to."""
        if isinstance(route, (*_TAKES, Leave, Back)):
            return WaysBack(self.places, in_take=True)
        if route == ToToday():
            return WaysBack()
        if route in _TABS:
            return WaysBack((ToToday(), route))
        if route in self.places:
            return WaysBack(self.places[: self.places.index(route) + 1])
        return WaysBack((*self.places, route))

    @property
    def back(self) -> Route:
        """Where Esc leads from here: from a take to where it was begun, from Today to Today."""
        return self.places[-1] if self.in_take or len(self.places) == 1 else self.places[-2]
