"""The answer of `homefret players`."""

from typing import Annotated

from msgspec import Meta

from game.commands.answers.kinds import Answer


class ListedPlayer(Answer, frozen=True, kw_only=True):
    """A player of this computer; the first one may have no name. `id` is that of their log, null before they played."""

    name: str
    folder: str
    settings: str
    id: str | None = None


class PlayersAnswer(Answer, frozen=True, kw_only=True):
    """All players, in the order in which they came."""

    players: Annotated[list[ListedPlayer], Meta(min_length=1)]
