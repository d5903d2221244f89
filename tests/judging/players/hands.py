"""How a player's hands keep the pulse, after the literature on tapping.

The two-level model of Wing and Kristofferson (1973): a timekeeper whose intervals vary with their length, and a delay
of the hand at each note, so that neighbouring intervals are negatively correlated. Linear phase correction takes a
share alpha of each asynchrony out of the next interval (Repp 2005; Repp and Su 2013: 0 without attending to the click,
mostly 0.1 to 0.9). Spread of trained and untrained players: 2 to 6 % of the interval. Long-range drift of the intervals
is close to 1/f (Gilden, Thornton and Mallon 1995): here a sum of three slow wanderings.
"""

from collections.abc import Callable
from dataclasses import dataclass
from random import Random

_MOST_OFF_S = 0.2
_PINK = (0.5, 0.9, 0.98)


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """Of one player. `timer` and `pink` are shares of the interval (standard deviations), `motor_s` that of the hand's
    delay. `alpha` is how much of an asynchrony the next interval takes out, `bias_s` where the player aims. With
    `hesitates` a share of notes comes `hesitation_s` late at most, and half of these hesitations are made up at once.
    `uneven` moves off-beat sixteenths and eighths, as a share of the gap; `swing` delays off-beat eighths on a straight
    grid by a share of the quarter, `softened` lets the short note after a dotted one come early by a share of it.
    """

    timer: float = 0.03
    motor_s: float = 0.008
    pink: float = 0.0
    alpha: float = 0.0
    bias_s: float = 0.0
    hesitates: float = 0.0
    hesitation_s: float = 0.15
    uneven: float = 0.0
    swing: float = 0.0
    softened: float = 0.0


SURE = Hands(timer=0.01, motor_s=0.006, alpha=0.3)
"""Keeps the pulse well: what else a player does is then seen clearly."""


class Keeping:
    """The pulse being kept: how far behind the click the player is, note by note."""

    def __init__(self, hands: Hands, rng: Random) -> None:
        self.hands, self.rng = hands, rng
        self.behind_s = hands.bias_s
        self.delay_s = 0.0
        self._slow = [rng.gauss(0, 1) for _ in _PINK]
        self._wait_s = 0.0

    def next_s(self, gap_s: float, extra: float, position: float) -> float:
        """The asynchrony of the next note, `gap_s` after this one by the click, `extra` the share the tempo is slower.

        `position` is where the note stands, in quarters.
        """
        hands, rng = self.hands, self.rng
        self._slow = [
            keep * value + rng.gauss(0, (1 - keep * keep) ** 0.5) for keep, value in zip(_PINK, self._slow, strict=True)
        ]
        noise = rng.gauss(0, hands.timer) + hands.pink * sum(self._slow) / 3**0.5
        asynchrony_s = self.behind_s + self.delay_s - hands.bias_s
        self.behind_s += gap_s * (extra + noise) - hands.alpha * asynchrony_s - self._wait_s
        self._wait_s = 0.0
        self._hesitate()
        self.delay_s = rng.gauss(0, hands.motor_s)
        return self.behind_s + self.delay_s + self._shaped_s(gap_s, position)

    def _hesitate(self) -> None:
        if self.rng.random() < self.hands.hesitates:
            wait_s = self.rng.uniform(0.4, 1.0) * self.hands.hesitation_s
            self.behind_s += wait_s
            self._wait_s = wait_s if self.rng.random() < 0.5 else 0.0

    def _shaped_s(self, gap_s: float, position: float) -> float:
        hands = self.hands
        within = position % 1
        shaped_s = 0.0
        if hands.swing and abs(within - 0.5) < 0.01:
            shaped_s += hands.swing * gap_s * 2
        if hands.softened and abs(within - 0.75) < 0.01:
            shaped_s -= hands.softened * gap_s
        if hands.uneven and within % 0.5 > 0.01:
            shaped_s += self.rng.choice((-1, 1)) * hands.uneven * gap_s
        return min(max(shaped_s, -_MOST_OFF_S), _MOST_OFF_S)


HANDS: dict[str, Callable[[Random], Hands]] = {
    "sure": lambda _rng: SURE,
    "follows the click": lambda rng: Hands(timer=rng.uniform(0.02, 0.05), motor_s=0.01, alpha=rng.uniform(0.1, 0.9)),
    "by themselves": lambda rng: Hands(timer=rng.uniform(0.02, 0.05), motor_s=0.01, alpha=0.0),
    "one over f": lambda rng: Hands(timer=0.02, pink=rng.uniform(0.01, 0.03), alpha=rng.uniform(0, 0.3)),
    "over-corrects": lambda rng: Hands(timer=rng.uniform(0.02, 0.04), motor_s=0.012, alpha=rng.uniform(0.9, 1.2)),
    "spread 6 %": lambda rng: Hands(timer=0.06, motor_s=0.015, alpha=rng.uniform(0.2, 0.6)),
    "hesitates": lambda rng: Hands(timer=0.03, alpha=rng.uniform(0, 0.2), hesitates=0.03),
    "early": lambda rng: Hands(timer=0.03, alpha=0.3, bias_s=-rng.uniform(0.03, 0.08)),
    "uneven": lambda rng: Hands(timer=0.03, alpha=0.3, uneven=rng.uniform(0.08, 0.2)),
    "swings": lambda rng: Hands(timer=0.03, alpha=0.3, swing=rng.uniform(0.08, 0.17)),
    "softens dots": lambda rng: Hands(timer=0.03, alpha=0.3, softened=rng.uniform(0.15, 0.33)),
}
