"""The unseen lines that a player has read, out of the log."""

from dataclasses import dataclass

from game.coach.stages import Stage
from game.errors import LogError
from game.lines.titles import line_of_title
from game.player.session import Session
from game.practice_log.queries.figure_records import SightReading
from game.practice_log.queries.figures import figures_of

MOST_TAKES = 1000
"""So many of the newest first sights are looked through for lines: more than years bring. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRead:
    """An unseen line: its level and key ("Bb"), and how many of its notes were right."""

    level: int
    key: str
    sight: SightReading


def lines_of(sights: tuple[SightReading, ...]) -> tuple[LineRead, ...]:
    """The lines among what was read at first sight, once through, in the same order: what a drill finds note by note
    was unseen as well, and is no reading.
    """
    once_through = (sight for sight in sights if Stage(sight.stage).once_through)
    named = ((line_of_title(sight.title), sight) for sight in once_through)
    return tuple(LineRead(level=found[0], key=found[1], sight=sight) for found, sight in named if found)


def lines_read(session: Session) -> tuple[LineRead, ...]:
    """All unseen lines that were read, the oldest first. Raises `LogError` for a log that cannot be read."""
    log = session.log
    with log.reading() as connection, figures_of(connection, log.player.uuid) as figures:
        return lines_of(figures.first_sights(MOST_TAKES))


def lines_read_or_none(session: Session) -> tuple[LineRead, ...]:
    """The same, none of a log that cannot be read: what is wrong with it is said elsewhere."""
    try:
        return lines_read(session)
    except LogError:
        return ()
