"""What the progress screen tells, out of the log."""

from dataclasses import dataclass
from datetime import timedelta

from game.coach.plan.mixed_maps import CostOfMixing
from game.coach.plan.next_map import fluent_told, lacking_told
from game.message import Message
from game.player.session import Session
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, SignedPace
from game.practice_log.queries.figures import figures_of
from game.practice_log.queries.summaries import takes_left
from game.report.care import rise
from game.report.outlook import outlook
from game.report.student import WEEK, WEEKS_OF_NOTES, Quicker, figures_of_slow, quicker
from game.screens.choosing.lines_read import MOST_TAKES, LineRead, lines_of

DAYS_SHOWN = 21
_SLOWEST, _QUICKER = 5, 3
# So many takes are added up in a tenth of a second.
_AT_ONCE = 3000


@dataclass(frozen=True, slots=True, kw_only=True)
class Progress:
    """What there is to show: days, all unseen lines and what was signed off, the slow notes (`coach.notes.slow_notes`),
    what got quicker, and what lies ahead where that can be told; `warning` when the last week was much more than those
    before; `own_map` says how far the player's map is, `mixing` what several maps on one day cost.
    """

    days: tuple[DayFigures, ...] = ()
    lines: tuple[LineRead, ...] = ()
    signed: tuple[SignedPace, ...] = ()
    slowest: tuple[NoteFigures, ...] = ()
    quicker: tuple[Quicker, ...] = ()
    outlook: tuple[Message, ...] = ()
    warning: Message | None = None
    own_map: Message | None = None
    mixing: CostOfMixing | None = None


def is_slow(session: Session) -> bool:
    """Whether so much has to be added up first that the player should be told. Raises `LogError`."""
    with session.log.reading() as connection:
        return takes_left(connection, session.log.player.uuid) > _AT_ONCE


def progress_of(session: Session) -> Progress:
    """What the player's log comes to. Raises `LogError` for one that cannot be read."""
    log, today = session.log, session.today()
    slow = session.notes.slow(session.settings.neck_map())
    with log.reading() as connection, figures_of(connection, log.player.uuid) as figures:
        gains = quicker(figures.notes(today - timedelta(days=WEEK), WEEK), figures.notes(today, WEEK))
        days, notes = figures.days(), figures.notes(today, WEEK * WEEKS_OF_NOTES)
        return Progress(
            days=days[-DAYS_SHOWN:],
            lines=lines_of(figures.first_sights(MOST_TAKES)),
            signed=figures.signed(),
            slowest=figures_of_slow(slow[:_SLOWEST], notes, lambda: ()),
            quicker=gains[:_QUICKER],
            outlook=tuple(one.sentence for one in outlook(days)),
            warning=rise(days, today),
            own_map=_told_of_map(session),
            mixing=session.plan.known.maps.cost_of_mixing,
        )


def _told_of_map(session: Session) -> Message | None:
    """How far the player's map is; None before anything was read on it."""
    maps = session.plan.known.maps
    fluency, name = maps.fluency, maps.own.name
    if len(fluency.not_met) == fluency.homes:
        return None
    return fluent_told(fluency, name) if fluency.fluent else lacking_told(fluency, name)
