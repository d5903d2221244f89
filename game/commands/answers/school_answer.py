"""The answer of `homefret school`."""

from game.commands.answers.kinds import Answer, Count, Words


class SchoolClass(Answer, frozen=True, kw_only=True):
    """A class in the week that ends today: who teaches it, how many of its `students` have practised, in minutes, and
    the minutes of the week before. `read` notes were met at first sight in four weeks, `clean` of them right; of those
    `read_timed` were against the click, and `clean_timed` of them right.
    """

    name: str
    teachers: list[str]
    students: Count
    practised: Count
    minutes: float
    before_minutes: float
    takes: Count
    read: Count
    clean: Count
    read_timed: Count
    clean_timed: Count


class SchoolAnswer(Answer, frozen=True, kw_only=True):
    """The database of a school, its address without the password; its classes; and what is to be said of it."""

    address: str
    classes: list[SchoolClass]
    faults: list[Words]
