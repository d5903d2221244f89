"""What a page keeps before the eyes while the click runs."""

from game.practice.timed_take import TimedTake

# In about that time the page comes to where the player is.
_GLIDE_S = 0.2


class PageGlide:
    """Where the page is: by the click, and by the player's own clock where they are behind it. It glides from one to
    the other.
    """

    def __init__(self) -> None:
        self._lag_s = self._followed_s = 0.0

    def rest(self) -> None:
        """Nothing runs: the next take begins without a lag."""
        self._lag_s = 0.0

    def position(self, take: TimedTake, now_s: float) -> float:
        """The musical position to be seen now, in quarters, of a take that runs."""
        passed_s, self._followed_s = max(0.0, now_s - self._followed_s), now_s
        self._lag_s += (take.waits_s - self._lag_s) * min(1.0, passed_s / _GLIDE_S)
        return take.position(now_s - self._lag_s)
