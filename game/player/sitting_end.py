"""The end of a sitting: what is surely quicker, what is new in ink, what became of the aim, and tomorrow."""

from datetime import date, timedelta

from game.coach.notes.quicker_notes import is_surely_quicker
from game.coach.plan.day_facts import NoteGain, SittingEnd
from game.coach.plan.plan_steps import StepKind
from game.coach.plan.row_words import row_quiet, row_title
from game.coach.plan.todays_plan import plan_for
from game.errors import LogError
from game.message import Message
from game.music.pitch import pitch
from game.player.player_day import PlayerDay
from game.player.player_log import PlayerLog
from game.practice_log.queries.figure_records import DayFigures, NoteFigures
from game.practice_log.queries.figures import Figures, figures_of

_WEEK, _MONTH = 7, 28
_QUICKER_MOST, _TOMORROW_MOST = 3, 2
_MUSIC = (StepKind.PASSAGE, StepKind.COURSE, StepKind.NEW_TUNE, StepKind.SIGNED_OFF)


def sitting_end(day: PlayerDay, log: PlayerLog) -> SittingEnd:
    """What the last page of a sitting tells. Where the log cannot be read its figures are left out."""
    today = date.fromordinal(day.day)
    try:
        with log.reading() as connection, figures_of(connection, log.player.uuid) as figures:
            of_day, quicker = _of_day(figures, today), _quicker(figures, today)
            read, before = figures.notes(today, 1), figures.notes(today - timedelta(days=1), _MONTH)
    except LogError:
        of_day, quicker, read, before = None, (), (), ()
    signed = [passage for passage, on in log.facts.desk.signed.items() if on == today]
    ink = day.ink_today()
    return SittingEnd(
        minutes=round(of_day.minutes) if of_day else 0,
        takes=of_day.takes if of_day else 0,
        pages_signed=len(signed),
        notes_read=sum(note.read for note in read),
        quicker=quicker,
        compared=bool(before),
        new_ink=ink,
        aim=day.aim_answer(),
        tomorrow=tomorrow(day),
        read=tuple(sorted({note.written for note in read if note.read}, key=_height)),
        signed=day.titles_of(signed),
    )


def _height(written: str) -> tuple[int, int]:
    """By which written notes stand from the lowest on: what sounds alike, by its place on the staff."""
    return pitch(written).midi, pitch(written).staff_step


def quicker_notes(before: tuple[NoteFigures, ...], now: tuple[NoteFigures, ...]) -> tuple[NoteGain, ...]:
    """At most three notes that are surely quicker, the largest gain first."""
    then = {(note.written, note.string, note.fret): note for note in before}
    gains = []
    for note in now:
        old = then.get((note.written, note.string, note.fret))
        if old is None or old.find_s is None or note.find_s is None:
            continue
        if is_surely_quicker(old.find_s, old.timed, note.find_s, note.timed):
            gains.append(
                NoteGain(
                    written=note.written, string=note.string, fret=note.fret, before_s=old.find_s, now_s=note.find_s
                )
            )
    return tuple(sorted(gains, key=lambda gain: gain.now_s / gain.before_s)[:_QUICKER_MOST])


def tomorrow(day: PlayerDay) -> tuple[tuple[Message, Message], ...]:
    """The music of tomorrow's plan, as things stand now, in two rows at most: what it is called, and its sentence."""
    situation = day.situation_tomorrow()
    rows = []
    for step in plan_for(situation):
        if step.kind in _MUSIC and not step.whole:
            facts = day.facts_of(step, situation)
            rows.append((row_title(step, facts), row_quiet(step, facts, situation.names)))
    return tuple(dict.fromkeys(rows))[:_TOMORROW_MOST]


def _of_day(figures: Figures, today: date) -> DayFigures | None:
    return next((one for one in reversed(figures.days()) if one.day == today), None)


def _quicker(figures: Figures, today: date) -> tuple[NoteGain, ...]:
    """Quicker in this week than in the weeks before it."""
    return quicker_notes(figures.notes(today - timedelta(days=_WEEK), _MONTH), figures.notes(today, _WEEK))
