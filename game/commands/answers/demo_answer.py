"""The answer of `homefret demo`."""

from game.coach.stages import Stage
from game.commands.answers.kinds import Answer, Count, Ordinal, Words


class TakeOfADemo(Answer, frozen=True, kw_only=True):
    """A take of the simulated player. `day` counts from 1; `tempo` is null for one at the player's own pace."""

    day: Ordinal
    tune: str
    stage: Stage
    tempo: float | None
    notes: Ordinal
    clean: Count
    reason: Words


class DemoAnswer(Answer, frozen=True, kw_only=True):
    """The takes of the simulated player, and the files that the demo left."""

    seed: int
    takes: list[TakeOfADemo]
    signed_off_tempo: float | None
    files: list[str]
