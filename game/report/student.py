"""One player's report, put together from the figures of their log: what the page, the CSV files and the answer tell."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import TYPE_CHECKING, Literal, Protocol

from game.coach.notes.slow_notes import SlowHome
from game.message import Message
from game.neck.neck_map import NeckMap
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures, WentWrong
from game.practice_log.queries.how_held import USUAL_HOLD, HowHeld
from game.report.care import minutes_between, rise
from game.report.pencilled_takes import PencilledTake

if TYPE_CHECKING:
    from game.report.outlook import Outlook

WEEK, WEEKS_OF_NOTES = 7, 4
LEAST_READ = 3
"""Times a note must have been read before anything is said of it. Ours."""

QUICKER = 0.9
"""A note is quicker when its median is under this share of the week before. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Quicker:
    """A note found faster than in the week before: medians in seconds."""

    written: str
    string: int
    fret: int
    before_s: float
    now_s: float


@dataclass(frozen=True, slots=True)
class SlowOnMap:
    """The slow notes of a map."""

    neck_map: NeckMap
    slow: tuple[NoteFigures, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportSums:
    """A report in one line: how many days were practised, the last of them, all minutes, the first-sight share of four
    weeks (0 to 1; None where nothing was read), and how many passages there are.
    """

    name: str
    days: int
    until: date
    minutes: float
    share: float | None
    passages: int


@dataclass(frozen=True, slots=True, kw_only=True)
class StudentReport:
    """All that is told of one player. The week and the four weeks end with `until`: for a teacher today, so that nobody
    who stayed away looks present; in the player's own report the last day practised.

    `notes` are those of the last four weeks, `slow` the slow or unsure ones (`game.coach.notes.slow_notes`) of the map
    played last, `slow_elsewhere` those of the other maps; `wrong`
    and `quicker` are of the last week; `warning` is None where none is needed; `outlook` is what can be told of the
    days ahead; `pencilled` are the takes of the week whose pages are shown, the one with the most marks first.
    `held` is how the instrument is held now.
    """

    name: str
    until: date
    days: tuple[DayFigures, ...]
    notes: tuple[NoteFigures, ...]
    slow: tuple[NoteFigures, ...]
    passages: tuple[PassageFigures, ...]
    wrong: tuple[WentWrong, ...]
    neck_map: NeckMap | None
    warning: Message | None
    quicker: tuple[Quicker, ...] = ()
    outlook: "tuple[Outlook, ...]" = ()
    pencilled: tuple[PencilledTake, ...] = ()
    slow_elsewhere: tuple[SlowOnMap, ...] = ()
    held: HowHeld = USUAL_HOLD

    @property
    def minutes(self) -> float:
        """All minutes practised."""
        return sum(day.minutes for day in self.days)

    @property
    def week_minutes(self) -> float:
        """Minutes of the last week."""
        return minutes_between(self.days, self.until - timedelta(days=WEEK), self.until)

    @property
    def recent(self) -> DayFigures:
        """The last four weeks as one: minutes, takes, and the first-sight score with its interval."""
        return days_as_one(self.days, self.until, WEEK * WEEKS_OF_NOTES)

    @property
    def sums(self) -> ReportSums:
        """All of it in one line."""
        return ReportSums(
            name=self.name,
            days=len(self.days),
            until=self.until,
            minutes=self.minutes,
            share=self.recent.share,
            passages=len(self.passages),
        )


class AskedFigures(Protocol):
    """What a report is made of: the figures of a log, or those of a student of a gathered class."""

    def days(self) -> tuple[DayFigures, ...]:
        """Every day of practice, oldest first."""

    def notes(self, until: date, days: int) -> tuple[NoteFigures, ...]:
        """The notes read in the days up to `until`, that day in, by pitch."""

    def passages(self) -> tuple[PassageFigures, ...]:
        """Every passage, the one played last first."""

    def went_wrong(self, until: date, days: int, most: int = ...) -> tuple[WentWrong, ...]:
        """The notes that went wrong in the days up to `until`, the most frequent first, at most so many."""

    def maps(self) -> tuple[NeckMap, ...]:
        """The maps that takes were read on, the one of the newest take first."""

    def newest_map(self) -> NeckMap | None:
        """The map of the newest take."""

    def slow_notes(self, neck_map: NeckMap) -> tuple[SlowHome, ...]:
        """The slow notes of a map, as the coach knows them."""

    def held(self) -> HowHeld:
        """How the instrument is held now."""


def student_report(figures: AskedFigures, name: str, *, today: date | None = None) -> StudentReport | None:
    """The report of a player, its week ending `today`, or with their last day; None where nothing was judged until
    then. What was played after `today` is in no figure of days and notes.
    """
    report = plain_report(figures, name, today=today)
    if report is None:
        return None
    from game.report.outlook import outlook  # noqa: PLC0415 - numbers are slow to load, and pages of a class tell none

    before = figures.notes(report.until - timedelta(days=WEEK), WEEK)
    gains = quicker(before, figures.notes(report.until, WEEK))
    return replace(report, quicker=gains, outlook=outlook(report.days))


def plain_report(figures: AskedFigures, name: str, *, today: date | None = None) -> StudentReport | None:
    """The same without what got quicker and what lies ahead, which no page of a class tells: that takes a while."""
    days = tuple(day for day in figures.days() if today is None or day.day <= today)
    if not days:
        return None
    until = today or days[-1].day
    notes, neck_map = figures.notes(until, WEEK * WEEKS_OF_NOTES), figures.newest_map()
    return StudentReport(
        name=name,
        until=until,
        days=days,
        notes=notes,
        slow=_slow(figures, notes, neck_map, until),
        passages=figures.passages(),
        wrong=figures.went_wrong(until, WEEK),
        neck_map=neck_map,
        warning=rise(days, until),
        slow_elsewhere=_slow_elsewhere(figures, notes, until),
        held=figures.held(),
    )


def _slow_elsewhere(figures: AskedFigures, notes: Sequence[NoteFigures], until: date) -> tuple[SlowOnMap, ...]:
    others = figures.maps()[1:]
    return tuple(SlowOnMap(one, _slow(figures, notes, one, until)) for one in others)


def figures_of_slow(
    slow: Sequence[SlowHome], notes: Sequence[NoteFigures], long_ago: Callable[[], Sequence[NoteFigures]]
) -> tuple[NoteFigures, ...]:
    """The figures of the slow notes among `notes`, in the order of `slow`; of one that was not read in their weeks
    those of `long_ago`.
    """
    of_note = _by_note(notes)
    if any(_named(note) not in of_note for note in slow):
        of_note = _by_note(long_ago()) | of_note
    return tuple(of_note[_named(note)] for note in slow if _named(note) in of_note)


def _by_note(notes: Sequence[NoteFigures]) -> dict[tuple[str, int, int], NoteFigures]:
    return {(note.written, note.string, note.fret): note for note in notes}


def _named(note: SlowHome) -> tuple[str, int, int]:
    return note.key.written, note.key.place.string, note.key.place.fret


def _slow(
    figures: AskedFigures, notes: Sequence[NoteFigures], neck_map: NeckMap | None, until: date
) -> tuple[NoteFigures, ...]:
    if neck_map is None:
        return ()
    return figures_of_slow(figures.slow_notes(neck_map), notes, lambda: figures.notes(until, until.toordinal() - 1))


def quicker(before: Sequence[NoteFigures], now: Sequence[NoteFigures]) -> tuple[Quicker, ...]:
    """What was found faster in one week than in the week before, the largest gain first."""
    then = {(note.written, note.string, note.fret): note for note in before if note.timed >= LEAST_READ}
    gains = []
    for note in now:
        old = then.get((note.written, note.string, note.fret))
        if old is None or note.timed < LEAST_READ or old.find_s is None or note.find_s is None:
            continue
        if note.find_s < QUICKER * old.find_s:
            gains.append(
                Quicker(
                    written=note.written,
                    string=note.string,
                    fret=note.fret,
                    before_s=old.find_s,
                    now_s=note.find_s,
                )
            )
    return tuple(sorted(gains, key=lambda gain: gain.now_s / gain.before_s))


def together(days: Sequence[DayFigures]) -> DayFigures:
    """Some days as one, under the first of them. Raises `ValueError` for none."""
    if not days:
        raise ValueError("no days to put together")
    return DayFigures(
        day=days[0].day,
        minutes=sum(day.minutes for day in days),
        takes=sum(day.takes for day in days),
        read=sum(day.read for day in days),
        clean=sum(day.clean for day in days),
        found=sum(day.found for day in days),
        found_s=sum(day.found_s for day in days),
        found_s2=sum(day.found_s2 for day in days),
        read_timed=sum(day.read_timed for day in days),
        clean_timed=sum(day.clean_timed for day in days),
    )


def days_as_one(days: Sequence[DayFigures], until: date, many: int) -> DayFigures:
    """So many days up to `until`, that day in, as one; of nothing where nobody practised."""
    within = [day for day in days if until - timedelta(days=many) < day.day <= until]
    return together(within) if within else DayFigures(day=until, **dict.fromkeys(_OF_NOTHING, 0))


_OF_NOTHING = ("minutes", "takes", "read", "clean", "found", "found_s")
MOST_POINTS = 42
Span = Literal["day", "week"]
"""What a point of a picture stands for."""


def by_weeks(days: Sequence[DayFigures]) -> tuple[tuple[DayFigures, ...], Span]:
    """What a picture shows: single days, or weeks (from Monday) where there are too many, the last year of them."""
    if len(days) <= MOST_POINTS:
        return tuple(days), "day"
    weeks: dict[date, list[DayFigures]] = {}
    for day in days:
        weeks.setdefault(day.day - timedelta(days=day.day.weekday()), []).append(day)
    return tuple(together(week) for week in list(weeks.values())[-52:]), "week"
