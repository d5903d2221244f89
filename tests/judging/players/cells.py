"""Cells: one kind of player at one kind of music, of whom any number of takes can be drawn by seed."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from random import Random

from tests.judging.players.hands import SURE, Hands
from tests.judging.players.material import Material, made_line, new_line, playable_tempo, shipped_tune
from tests.judging.players.performed import NoRoomError, Performance, Step, perform
from tests.judging.players.pulses import PulseKind, steady
from tests.judging.players.scripts import Course, straight, with_faults

MaterialKind = Callable[[Random], Material]
ALONE = Hands(timer=0.02, motor_s=0.008)
"""Goes by their own pulse and leaves the click to itself."""

_DRAWN_AT_MOST = 200
_SLOWEST_BPM, _FASTEST_BPM = 40, 200


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """`faults` is the share of each of dropped, wrong and added. `change` is done to the script last."""

    name: str
    material: MaterialKind
    course: Course = straight
    pulse: PulseKind = steady
    hands: Callable[[Random], Hands] = lambda _rng: SURE
    faults: float = 0.0
    change: Callable[[list[Step], Material, Random], list[Step]] | None = None

    def performance(self, seed: int) -> Performance:
        """The take of a seed, always the same."""
        rng = Random(f"{self.name} {seed}")
        material, script = self._fitting(rng)
        if self.faults:
            script = with_faults(script, self.faults, rng)
        if self.change:
            script = self.change(script, material, rng)
        return perform(material, script, self.pulse, self.hands(rng), rng)

    def _fitting(self, rng: Random) -> tuple[Material, list[Step]]:
        """Music that has room for what the player is to do, and their script."""
        for _ in range(_DRAWN_AT_MOST):
            material = self.material(rng)
            with suppress(NoRoomError):
                return material, self.course(material, rng)
        raise NoRoomError(self.name)


def tempo(rng: Random) -> float:
    """40 to 200, all ratios alike likely."""
    return round(_SLOWEST_BPM * (_FASTEST_BPM / _SLOWEST_BPM) ** rng.random())


def lines(pitches: str | tuple[str, ...], rhythm: str | tuple[str, ...], bars: int | tuple[int, ...]) -> MaterialKind:
    """Lines of one or some kinds of pitches, rhythms and lengths, at any tempo at which they can be played."""

    def made(rng: Random) -> Material:
        row = rng.choice(rhythm) if isinstance(rhythm, tuple) else rhythm
        return made_line(
            rng.choice(pitches) if isinstance(pitches, tuple) else pitches,
            row,
            rng.choice(bars) if isinstance(bars, tuple) else bars,
            playable_tempo(row, tempo(rng)),
            rng,
        )

    return made


def tunes(rng: Random) -> Material:
    """A shipped tune, at 50 to 140."""
    return shipped_tune(rng.randrange(25), round(rng.uniform(50, 140)))


def fresh_lines(rng: Random) -> Material:
    """A fresh line of any level."""
    return new_line(rng.randint(1, 8), rng.choice((4, 8, 16)), round(rng.uniform(50, 130)), rng)


MATERIALS: dict[str, MaterialKind] = {
    "walking": lines("walking", ("eighths", "mixed", "dotted"), 8),
    "scales": lines("scales", ("eighths", "mixed"), 8),
    "ostinato": lines("ostinato", ("eighths", "mixed"), 8),
    "repeated": lines("repeated", ("eighths", "mixed"), 8),
    "tunes": tunes,
    "fresh lines": fresh_lines,
}
