"""The answer of `homefret log`."""

from msgspec import UNSET, UnsetType

from game.commands.answers.kinds import Answer, Count
from game.practice_log.transfer.contents import Contents


class LogAnswer(Answer, frozen=True, kw_only=True):
    """The practice log, and what was done with it. `file` is where a copy went or came from, `kept` where the log from
    before a restore is kept, `contents` what an export says of itself.
    """

    log: str
    takes: Count
    file: str | None = None
    kept: str | None = None
    contents: Contents | UnsetType = UNSET
