"""The answer of `homefret line`."""

from typing import Annotated

from msgspec import UNSET, Meta, UnsetType

from game.commands.answers.kinds import LineLevel
from game.commands.answers.score_answer import ScoreAnswer


class LineAnswer(ScoreAnswer, frozen=True, kw_only=True):
    """A fresh line as a score, and what repeats it."""

    level: LineLevel
    level_name: str
    rhythm: Annotated[
        int, Meta(ge=1, le=6, description="rhythm level, chosen beside the level or the one that usually goes with it")
    ]
    rhythm_name: str
    seed: int
    file: str | UnsetType = UNSET
    writer: (
        Annotated[int, Meta(ge=1, description="way of writing: a seed gives the same line within one")] | UnsetType
    ) = UNSET
