"""What a page of first sight goes through: it lies face down, is looked at in silence, and is read once through."""

from game.practice.first_look import LOOK_S, FirstLook
from game.practice.take_request import TakeRequest
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.reading.page_heading import beat_in_words, title_of
from game.screens.reading.page_view import PageView
from game.screens.reading.sight_sheet import SightSheet
from game.text.catalogue import say


class SightSteps:
    """The steps of one page. Tell it when the page is turned up and when reading has begun; `show` keeps the sheet of
    the view as it is to be seen. `read` is what Enter does once it was read, for one whom nothing listens to.
    """

    def __init__(
        self,
        context: ScreenContext,
        request: TakeRequest,
        view: PageView,
        hands: tuple[KeyHint, ...] = (),
        *,
        read: str = "",
    ) -> None:
        self._read_words = read
        self._request, self._view, self._hands = request, view, hands
        self._look = FirstLook()
        self._reading = False
        self.show(context.clock.now_s())

    @property
    def looking(self) -> bool:
        """Whether the page is being looked at."""
        return self._look.began_s is not None and not self._reading

    @property
    def reading(self) -> bool:
        """Whether reading has begun."""
        return self._reading

    def turn_up(self, now_s: float) -> None:
        """The page is turned up: from now on it may be looked at."""
        self._view.uncover(to_look=True)
        self._view.status = ""
        self._look = FirstLook(now_s)
        self.show(now_s)

    def is_over(self, now_s: float) -> bool:
        """Whether the time to look has passed, and reading is to begin."""
        return self.looking and self._look.is_over(now_s)

    def read(self, now_s: float) -> None:
        """Reading begins: nothing lies over the music any more."""
        self._view.uncover()
        self._reading = True
        self.show(now_s)

    def show(self, now_s: float) -> None:
        """Keep the view's sheet as things are."""
        covered = self._view.covered
        self._view.sight = SightSheet(
            title=title_of(self._request),
            how=self._how(now_s),
            tempo=self._tempo,
            covered=covered,
            sentences=self._sentences if covered else (),
            enter=self._enter(covered=covered),
            corner=self._read_words if self._reading else say("corner.turn_up" if covered else "corner.begin"),
            keys=key_hints(("keys.escape", "keys.stop")),
            hands=self._hands,
        )

    def _how(self, now_s: float) -> str:
        if self._view.status and not self._view.covered:
            return self._view.status
        if self.looking:
            return say("sight.look", seconds=self._look.left_s(now_s))
        return say("sight.once_through")

    @property
    def _sentences(self) -> tuple[str, ...]:
        """Why it is read, where there is reason, and what is asked."""
        asked = say("sight.face_down", seconds=round(LOOK_S))
        return (self._view.status, asked) if self._view.status else (asked,)

    def _enter(self, *, covered: bool) -> KeyHint | None:
        if self._reading:
            enter = key_hints(("keys.enter", "keys.mark"))
            return enter[0] if self._read_words else None
        (hint,) = key_hints(("keys.enter", "keys.turn_up" if covered else "keys.begin"))
        return hint

    @property
    def _tempo(self) -> str:
        bpm = self._request.tempo_bpm
        if bpm is None:
            return ""
        return say("sign.tempo", beat=beat_in_words(self._request.passage.bars[0].meter), bpm=bpm)
