"""The answer of `homefret log`."""

from msgspec import UNSET, UnsetType

from game.commands.answers.kinds import Answer, Count, Day
from game.practice_log.transfer.contents import Contents


class LogPlayer(Answer, frozen=True, kw_only=True):
    """Whose log it is; the name may be empty."""

    id: str
    name: str


class LogDevice(Answer, frozen=True, kw_only=True):
    """A computer of whose entries some are in the log, and how many takes were played on it; the name may be empty."""

    id: str
    name: str
    takes: Count


class GatheredAnswer(Answer, frozen=True, kw_only=True):
    """What was gathered: `files` that were read, or known already; of those read how many `takes` came, of how many
    `devices`, how many of them are `new`, and how many new entries there are in all; and what could not be read.
    """

    files: Count
    takes: Count
    devices: Count
    new: Count
    new_entries: Count
    faults: list[str]


class LogAnswer(Answer, frozen=True, kw_only=True):
    """The practice log, and what was done with it. `file` is where a copy went or came from, `kept` where the log from
    before a restore is kept, `contents` what an export says of itself, `gathered` what was gathered, and `shared` the
    folder that the log is shared through, null for none.

    `player` is null where nothing is in the log. `days` counts those practised on, each by the zone in which it was
    lived, from the `first` to the `last`; `notes` those played. The `fingerprint` is the same in every log in which the
    same entries were gathered, in whatever order.
    """

    log: str
    takes: Count
    file: str | None = None
    kept: str | None = None
    contents: Contents | UnsetType = UNSET
    gathered: GatheredAnswer | UnsetType = UNSET
    shared: str | UnsetType | None = UNSET
    player: LogPlayer | None = None
    devices: tuple[LogDevice, ...] = ()
    days: Count = 0
    first: Day | None = None
    last: Day | None = None
    notes: Count = 0
    fingerprint: str | None = None
