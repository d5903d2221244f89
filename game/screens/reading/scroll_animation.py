"""A staff that waits, and glides on."""

from dataclasses import dataclass

GLIDE_S = 0.28
# So that the last picture of a movement is drawn too.
_A_LITTLE_S = 0.05


@dataclass
class ScrollAnimation:
    """Where the staff stands: it waits at `target_px` once `GLIDE_S` have passed since it was sent there."""

    from_px: float = 0.0
    target_px: float = 0.0
    since_s: float = float("-inf")

    def position_at(self, now_s: float) -> float:
        """The scroll position at a time: slow, quick, slow."""
        share = min(1.0, max(0.0, (now_s - self.since_s) / GLIDE_S))
        eased = share * share * (3 - 2 * share)
        return self.from_px + (self.target_px - self.from_px) * eased

    def glide_to(self, target_px: float, now_s: float) -> None:
        """Glide to a place from wherever it is now."""
        if target_px != self.target_px:
            self.from_px, self.target_px, self.since_s = self.position_at(now_s), target_px, now_s

    def jump_to(self, at_px: float) -> None:
        """Be there at once."""
        self.from_px = self.target_px = at_px

    def moving(self, now_s: float) -> bool:
        """Whether it is on its way."""
        return now_s - self.since_s < GLIDE_S + _A_LITTLE_S
