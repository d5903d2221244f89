"""What moves on a page that is signed, and when. Pure: times are seconds since it was laid down."""

from dataclasses import dataclass

TURNS_S, DATE_S, SIGNS_S = 1.2, 0.5, 0.8
"""So long the page turns to ink, the date writes itself, and a kept signature is written."""


@dataclass(frozen=True, slots=True)
class SigningTimes:
    """`still` shows the end of everything at once. `signed_s` is when the pen began to write, None before."""

    opened_s: float
    still: bool = False
    signed_s: float | None = None

    @property
    def ready_s(self) -> float:
        """From when on the pen may sign: the page is ink and dated."""
        return self.opened_s if self.still else self.opened_s + TURNS_S + DATE_S

    def turned(self, now_s: float) -> float:
        """How much of the page is ink, 0 to 1, from the left."""
        return self._share(now_s, self.opened_s, TURNS_S)

    def dated(self, now_s: float) -> float:
        """How much of the date is written."""
        return self._share(now_s, self.opened_s + TURNS_S, DATE_S)

    def signed(self, now_s: float) -> float:
        """How much of the signature is written; 0 before anybody signed."""
        return 0.0 if self.signed_s is None else self._share(now_s, max(self.signed_s, self.ready_s), SIGNS_S)

    def moving(self, now_s: float) -> bool:
        """Whether anything still moves."""
        return self.dated(now_s) < 1 or (self.signed_s is not None and self.signed(now_s) < 1)

    def _share(self, now_s: float, from_s: float, lasts_s: float) -> float:
        return 1.0 if self.still else min(1.0, max(0.0, (now_s - from_s) / lasts_s))
