"""The answer of `homefret erase`."""

from game.commands.answers.kinds import Answer


class EraseAnswer(Answer, frozen=True, kw_only=True):
    """A player who was erased: the name and ids they had, and the files that are gone, on this computer and in the
    shared folder or the folder of a class. Of the `logs` they are gone, and others who played into them are not; of the
    `classes` likewise. Nobody can tell whose the files in `unknown` are. The pages in `to_write_anew` named them. The
    `lists` of the class and the `texts` of assignments name them still.
    """

    player: str
    ids: list[str]
    files: list[str]
    logs: list[str]
    classes: list[str]
    to_write_anew: list[str]
    unknown: list[str]
    lists: list[str]
    texts: list[str]
