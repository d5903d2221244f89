"""The answer of `homefret gather`."""

from game.commands.answers.kinds import Answer, Count, Words


class GatherAnswer(Answer, frozen=True, kw_only=True):
    """Where the class was gathered: how many `students` it has now, of how many something was new, how many files were
    read and takes put in, and what is to be said of files and of the list.
    """

    file: str
    students: Count
    changed: Count
    read: Count
    takes: Count
    faults: list[Words]
