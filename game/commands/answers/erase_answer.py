"""The answer of `homefret erase`."""

from game.commands.answers.kinds import Answer


class EraseAnswer(Answer, frozen=True, kw_only=True):
    """A player who was erased: the name and ids they had, and the files that are gone, on this computer and in the
    shared folder.
    """

    player: str
    ids: list[str]
    files: list[str]
