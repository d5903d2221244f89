"""The answer of `homefret log`."""

from typing import Any

from msgspec import UNSET, UnsetType

from game.commands.answers.kinds import Answer, Count


class LogAnswer(Answer, frozen=True, kw_only=True):
    """The practice log, and what was done with it. `file` is where a copy went or came from, `kept` where the log from
    before a restore is kept, `contents` what an export says of itself.
    """

    log: str
    takes: Count
    file: str | None = None
    kept: str | None = None
    contents: dict[str, Any] | UnsetType = UNSET
