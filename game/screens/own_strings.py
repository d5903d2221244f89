"""When our own strings sounded: what a microphone hears meanwhile is no answer, for nobody can tell whose it is."""

from collections import deque

from game.audio.sound import Sound

RINGING_ON_S = 0.3
"""So long after a sound a room, and the way from the program to the loudspeaker, may still give it back."""

_KEPT = 16
"""Of long ago nothing is told any more."""


class OwnStrings:
    """Watches a sound from turn to turn of the loop. Times are on the master clock."""

    def __init__(self) -> None:
        self._before_s: float | None = None
        self._began_s: float | None = None
        self._spans: deque[tuple[float, float]] = deque(maxlen=_KEPT)

    def look(self, sound: Sound, now_s: float) -> None:
        """See whether they sound now. A sound that is seen began since the look before."""
        if sound.strings.sounding:
            if self._began_s is None:
                self._began_s = now_s if self._before_s is None else self._before_s
        elif self._began_s is not None:
            self._spans.append((self._began_s, now_s + RINGING_ON_S))
            self._began_s = None
        self._before_s = now_s

    def sounded_at(self, at_s: float) -> bool:
        """Whether they sounded then, or had only just ended."""
        under_way = self._began_s is not None and at_s >= self._began_s
        return under_way or any(began_s <= at_s <= ended_s for began_s, ended_s in self._spans)
