"""What following a take takes in and gives."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from game.judging.following.player_clock import PlayerClock
from game.neck.tuning import Place

NOBODY = -1
"""Stands for the written note where a played note answers none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeRows:
    """What is written and what was played in a timed take, as rows.

    `due_s` and `times_s` rise; `asked` and `sounding` are MIDI numbers (all equal where only the rhythm counts).
    `begins_bar` says of each written note whether it is the first of its bar. `homes` and `places` are None where
    places are not told apart.
    """

    due_s: Sequence[float]
    asked: Sequence[int]
    times_s: Sequence[float]
    sounding: Sequence[int]
    beat_s: float
    begins_bar: Sequence[bool] = ()
    homes: Sequence[Place | None] | None = None
    places: Sequence[Place | None] | None = None
    by_pitch: dict[int, list[int]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if not self.by_pitch:
            for index, pitch in enumerate(self.asked):
                self.by_pitch.setdefault(pitch, []).append(index)


class TimeJump(NamedTuple):
    """Played note `played` was the first after a jump, from written note `left` (-1 at the start) to `to`.

    The lean rose by `by_s` there.
    """

    played: int
    left: int
    to: int
    by_s: float


class FollowedStep(NamedTuple):
    """Played note `played` answers `written`, or `NOBODY`.

    `clock` is the player's after it, `surprise` how many squared deviations off it came, `home_s` the lean before the
    last jump.
    """

    played: int
    written: int
    jump: TimeJump | None
    clock: PlayerClock
    surprise: float
    home_s: float
