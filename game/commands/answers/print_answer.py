"""The answer of `homefret print`."""

from game.commands.answers.kinds import Answer


class PrintAnswer(Answer, frozen=True, kw_only=True):
    """The file that was written, and the titles of the pieces in it, in their order."""

    file: str
    pieces: list[str]
