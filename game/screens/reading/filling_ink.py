"""Print that was read turns to ink: each note is filled within a moment of its own."""

from game.desk.kit.canvas import blend
from game.desk.theme import Colour, Theme
from game.music.written import HeadId

# Within that time, in so many steps: each has a picture of its own.
_FILL_S, _FILL_STEPS = 0.18, 4
_A_LITTLE_S = 0.05


class FillingInk:
    """Since when each note of a page is filled with ink; none at first."""

    def __init__(self) -> None:
        self._since_s: dict[HeadId, float] = {}

    @property
    def heads(self) -> frozenset[HeadId]:
        """The notes in ink, filled or not yet."""
        return frozenset(self._since_s)

    def fill(self, heads: frozenset[HeadId], now_s: float) -> None:
        """These notes are in ink from now on and no others; those that were already go on being filled."""
        self._since_s = {head: self._since_s.get(head, now_s) for head in heads}

    def colours(self, theme: Theme, now_s: float) -> dict[HeadId, Colour]:
        """The colours of the notes that are not filled yet."""
        return {
            head: blend(theme.ink, theme.read, int(_FILL_STEPS * (now_s - since_s) / _FILL_S) / _FILL_STEPS)
            for head, since_s in self._since_s.items()
            if 0 <= now_s - since_s < _FILL_S
        }

    def is_filling(self, now_s: float) -> bool:
        """Whether a note is being filled, or was a frame ago: its last picture has still to be drawn."""
        return now_s - max(self._since_s.values(), default=float("-inf")) < _FILL_S + _A_LITTLE_S
