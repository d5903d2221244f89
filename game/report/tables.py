"""The tables of a report, as rows of plain text to be read on the page or aloud."""

from collections.abc import Sequence
from dataclasses import dataclass

from game.music.names import NoteNames
from game.practice_log.queries.figures import DayFigures, NoteFigures, PassageFigures, WentWrong
from game.report import figure_words
from game.report.student import Quicker
from game.text.catalogue import tell


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
    headings = (
        "day", "minutes", "takes", "notes read at first sight", "clean", "first-sight score", "surely at least",
        "surely at most", "notes found a second",
    )  # fmt: skip
    return Table(
        caption="Days practised", headings=headings, rows=tuple(_day_row(day) for day in reversed(days)), kind="days"
    )


def _day_row(day: DayFigures) -> tuple[str, ...]:
    low, high = (figure_words.share_said(bound if day.read else None) for bound in day.interval)
    pace = "–" if day.notes_a_second is None else f"{day.notes_a_second:.2f}"
    read = (str(day.read), str(day.clean), figure_words.share_said(day.share), low, high, pace)
    return figure_words.day_said(day.day), figure_words.minutes_said(day.minutes), str(day.takes), *read


def notes_table(caption: str, notes: Sequence[NoteFigures], names: NoteNames) -> Table:
    """Notes with their homes, how surely and how quickly they are found, and why they went wrong."""
    headings = ("note", "string", "fret", "times read", "clean", "median time to find", "why it went wrong (how often)")
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
    return Table(caption=caption, headings=headings, rows=tuple(rows))


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
    headings = ("note", "string", "fret", "week before", "last week")
    return Table(caption="Found quicker than the week before (median)", headings=headings, rows=tuple(rows))


def passages_table(passages: Sequence[PassageFigures]) -> Table:
    """The book of passages with tempo and marks, numbered from the one played last."""
    headings = ("number", "tune", "bars", "takes", "last played", "last tempo", "fastest clean", "target", "marks")
    rows = (
        (
            str(number),
            passage.title,
            tell(figure_words.bars_said(passage.first, passage.last)),
            str(passage.takes),
            figure_words.day_said(passage.last_day),
            figure_words.tempo_said(passage.newest_bpm),
            figure_words.tempo_said(passage.clean_bpm),
            figure_words.tempo_said(passage.target_bpm),
            "; ".join(f"{mark} on {figure_words.day_said(day)}" for mark, day in passage.marks) or "–",
        )
        for number, passage in enumerate(passages, start=1)
    )
    return Table(caption="Passages, tempo in beats a minute", headings=headings, rows=tuple(rows))


def wrong_table(wrong: Sequence[WentWrong], names: NoteNames) -> Table:
    """The week's pencil marks in words."""
    headings = ("tune", "bar", "note", "home", "verdict", "played", "why", "how often", "last on")
    rows = (
        (
            mark.title,
            mark.bar,
            figure_words.note_said(mark.written, names),
            f"string {mark.string} fret {mark.fret}",
            mark.verdict,
            figure_words.played_said(mark.played, mark.octaves_down, names),
            figure_words.CAUSES.get(mark.cause or "", "–"),
            str(mark.times),
            figure_words.day_said(mark.day),
        )
        for mark in wrong
    )
    return Table(caption="What the pencil marked in the last week", headings=headings, rows=tuple(rows))
