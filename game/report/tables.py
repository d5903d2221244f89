"""The tables of a report, as rows of plain text to be read on the page or aloud."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from game.lines.titles import title_told
from game.music.names import NoteNames
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures, WentWrong
from game.report import figure_words
from game.report.student import Quicker
from game.text.catalogue import say, tell


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A table that can be read aloud: a caption, a heading for each column, and rows whose first cell names them.
    `kind` is its class in `paper.css`.
    """

    caption: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    kind: str = ""


def days_table(days: Sequence[DayFigures]) -> Table:
    """Every day, the newest first."""
    return Table(
        caption=say("report.days.caption"),
        headings=headings_of("day minutes takes read_at_sight clean sight_score at_least at_most notes_a_second"),
        rows=tuple(_day_row(day) for day in reversed(days)),
        kind="days",
    )


def headings_of(names: str) -> tuple[str, ...]:
    """The headings of columns, by their names with spaces between."""
    return tuple(say(f"report.column.{name}") for name in names.split())


def _day_row(day: DayFigures) -> tuple[str, ...]:
    low, high = (figure_words.share_said(bound if day.read else None) for bound in day.interval)
    read = (str(day.read), str(day.clean), figure_words.share_said(day.share), low, high)
    played = (figure_words.minutes_said(day.minutes), str(day.takes))
    return figure_words.day_said(day.day), *played, *read, figure_words.pace_said(day.notes_a_second)


def notes_table(notes: Sequence[NoteFigures], names: NoteNames) -> Table:
    """Notes with their homes, how surely and how quickly they are found, and why they went wrong."""
    rows = (
        (
            figure_words.note_said(note.written, names),
            str(note.string),
            str(note.fret),
            str(note.read),
            figure_words.share_said(note.clean / note.read),
            figure_words.seconds_said(note.find_s),
            figure_words.causes_said(note.causes),
        )
        for note in notes
    )
    headings = headings_of("note string fret times_read clean median_find causes")
    return Table(caption=say("report.slow.caption"), headings=headings, rows=tuple(rows))


def quicker_table(gains: Sequence[Quicker], names: NoteNames) -> Table:
    """What is found faster than a week ago."""
    rows = (
        (
            figure_words.note_said(gain.written, names),
            str(gain.string),
            str(gain.fret),
            figure_words.seconds_said(gain.before_s),
            figure_words.seconds_said(gain.now_s),
        )
        for gain in gains
    )
    headings = headings_of("note string fret week_before last_week")
    return Table(caption=say("report.quicker.caption"), headings=headings, rows=tuple(rows))


def passages_table(passages: Sequence[PassageFigures], until: date) -> Table:
    """The book of passages with tempo and marks, numbered from the one played last; it is read on a day `until`."""
    rows = (
        (
            str(number),
            tell(title_told(passage.title)),
            tell(figure_words.bars_said(passage.first, passage.last)),
            str(passage.takes),
            figure_words.near_day(passage.last_day, until),
            figure_words.tempo_said(passage.newest_bpm),
            figure_words.tempo_said(passage.clean_bpm),
            figure_words.tempo_said(passage.target_bpm),
            _marks_said(passage),
        )
        for number, passage in enumerate(passages, start=1)
    )
    headings = headings_of("number tune bars takes last_played last_tempo fastest_clean target marks")
    return Table(caption=say("report.passages.caption"), headings=headings, rows=tuple(rows))


def _marks_said(passage: PassageFigures) -> str:
    earned = (say("report.mark_on", mark=figure_words.mark_said(mark), day=day) for mark, day in passage.marks)
    return "; ".join(earned) or figure_words.NOTHING


def wrong_table(wrong: Sequence[WentWrong], names: NoteNames) -> Table:
    """The week's pencil marks in words."""
    headings = headings_of("tune bar note home verdict played cause how_often last_on")
    return Table(
        caption=say("report.wrong.caption"), headings=headings, rows=tuple(_wrong_row(mark, names) for mark in wrong)
    )


def _wrong_row(mark: WentWrong, names: NoteNames) -> tuple[str, ...]:
    return (
        tell(title_told(mark.title)),
        mark.bar,
        figure_words.note_said(mark.written, names),
        figure_words.place_said(mark.string, mark.fret),
        figure_words.verdict_said(mark.verdict),
        figure_words.played_said(mark.played, mark.octaves_down, names),
        tell(figure_words.cause_said(mark.cause)) if mark.cause else figure_words.NOTHING,
        str(mark.times),
        figure_words.short_day(mark.day),
    )
