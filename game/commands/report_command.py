"""`homefret report`: what practice came to, as a page to read or print, for the player or, over a folder, a teacher."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from game.clock import wall_time
from game.commands.answers.report_answer import (
    FirstSight,
    PassageMark,
    ReportAnswer,
    ReportedOutlook,
    ReportedPage,
    ReportedPassage,
    ReportedStudent,
    SlowNote,
)
from game.commands.class_source import opened_class
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json, print_table
from game.errors import LogError
from game.music.names import NoteNames
from game.player.players_file import PlayerError
from game.player.profiles import Profile
from game.player.settings_file import load_or_defaults
from game.practice_log.classes.class_queries import class_week
from game.practice_log.queries.figure_records import DayFigures, NoteFigures, PassageFigures
from game.text.catalogue import in_english, in_figures, say

if TYPE_CHECKING:
    from game.report.outlook import Outlook
    from game.report.pencilled_takes import PencilledTake
    from game.report.report_files import WrittenClass, WrittenReport
    from game.report.student import StudentReport

DEFAULT_NAME, DEFAULT_INDEX = "homefret-report.html", "index.html"


def add_parser(subparsers: Any) -> None:
    """Add `report` and its words to the program's commands."""
    parser = subparsers.add_parser("report", help=say("command.report.summary"))
    parser.add_argument(
        "--from", dest="folder", type=Path, metavar=say("metavar.folder"), help=say("command.report.from")
    )
    parser.add_argument(
        "--out",
        type=Path,
        metavar=say("metavar.file_of_kind", ending=".html"),
        help=say("command.report.out", default=DEFAULT_NAME, index=DEFAULT_INDEX),
    )
    add_player_word(parser)
    add_json_flag(parser)
    parser.add_argument(
        "--marks", type=Path, metavar=say("metavar.file_of_kind", ending=".csv"), help=say("command.report.marks")
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the report and say where it is; raises `HomefretError` for what the user can mend."""
    if args.out and args.out.suffix.lower() not in (".html", ".htm"):
        raise LogError("command.report.no_page_ending", out=args.out)
    if args.marks and not args.folder:
        raise LogError("command.report.marks_of_a_class")
    written = class_written(args) if args.folder else own_written(player_from(args), args.out)
    if args.marks:
        _write_marks(args)
    if args.json:
        print_json(report_answer(written, args.marks))
    else:
        _print_for_people(written)
        if args.marks:
            print(say("command.report.marks_written", out=args.marks))
    return 0


def own_written(player: Profile, out: Path | None) -> "WrittenClass":
    """Write a player's report: a class of one, whose only page is the player's own."""
    from game.report.report_files import WrittenClass, write_own_report  # noqa: PLC0415 - the drawing library is slow

    log, page = player.log_path, out or Path(DEFAULT_NAME)
    written = write_own_report(log, page, name=player.name, names=_names_of(player))
    return WrittenClass(index=written.files[0], students=(written,), faults=())


def class_written(args: argparse.Namespace) -> "WrittenClass":
    """Write the pages over a folder of exports, the notes called as whoever asks calls them."""
    from game.report.report_files import write_class  # noqa: PLC0415 - the drawing library is slow to load

    try:
        names = _names_of(player_from(args))
    except PlayerError:
        names = NoteNames.ENGLISH
    return write_class(args.folder, args.out or args.folder / DEFAULT_INDEX, names=names)


def _write_marks(args: argparse.Namespace) -> None:
    """The marks of the class, as they stand today."""
    from game.report.marks_file import write_marks  # noqa: PLC0415 - numbers are slow to load

    with opened_class(str(args.folder)) as opened:
        write_marks(args.marks, class_week(opened.asked, wall_time().date()))


def report_answer(written: "WrittenClass", marks: Path | None = None) -> ReportAnswer:
    """What was written, as the command answers it."""
    return ReportAnswer(
        file=str(written.index),
        students=[student_answer(student) for student in written.students],
        faults=[in_english(fault) for fault in written.faults],
        marks=str(marks) if marks else None,
    )


def student_answer(written: "WrittenReport") -> ReportedStudent:
    """One player's figures."""
    report = written.report
    return ReportedStudent(
        name=report.name,
        files=[str(file) for file in written.files],
        days=len(report.days),
        last_day=report.until.isoformat(),
        minutes=round(report.minutes, 2),
        week_minutes=round(report.week_minutes, 2),
        first_sight=_first_sight(report.recent),
        notes_a_second=report.recent.notes_a_second,
        slow_notes=[_note(note) for note in report.slow],
        passages=[_passage(passage) for passage in report.passages],
        warning=in_english(report.warning) if report.warning else None,
        outlook=[_outlook(one) for one in report.outlook],
        pages=[_page(take) for take in report.pencilled],
    )


def _first_sight(recent: DayFigures) -> FirstSight:
    return FirstSight(
        read=recent.read,
        clean=recent.clean,
        share=recent.share,
        surely=list(recent.interval) if recent.read else None,
    )


def _note(note: NoteFigures) -> SlowNote:
    return SlowNote(
        written=note.written,
        string=note.string,
        fret=note.fret,
        read=note.read,
        clean=note.clean,
        find_s=note.find_s,
        causes=dict(note.causes),
    )


def _passage(passage: PassageFigures) -> ReportedPassage:
    return ReportedPassage(
        title=passage.title,
        bars=[passage.first, passage.last],
        takes=passage.takes,
        tempo=passage.newest_bpm,
        clean_tempo=passage.clean_bpm,
        target=passage.target_bpm,
        marks=[PassageMark(mark=mark, day=day.isoformat()) for mark, day in passage.marks],
        read=None if passage.read_day is None else passage.read_day.isoformat(),
    )


def _outlook(one: "Outlook") -> ReportedOutlook:
    ahead = one.forecast
    return ReportedOutlook(
        what=one.what,
        limit=ahead.limit,
        now=ahead.now,
        day=ahead.day.isoformat(),
        surely=[ahead.earliest.isoformat(), ahead.latest.isoformat()],
    )


def _page(take: "PencilledTake") -> ReportedPage:
    return ReportedPage(
        day=take.day.isoformat(),
        number=take.number,
        title=take.bars.title,
        bars=[take.bars.first, take.bars.last],
    )


def _names_of(player: Profile) -> NoteNames:
    """How the player calls the notes; settings that cannot be read are no reason to write no report."""
    return load_or_defaults(player.settings_path).settings.note_names


def _print_for_people(written: "WrittenClass") -> None:
    columns = ("name", "days", "last_day", "minutes", "first_sight", "passages")
    print_table(columns, (_row(student.report) for student in written.students))
    for fault in written.faults:
        print(say("command.report.left_out", fault=fault))
    print(say("command.report.written", file=written.index))


def _row(report: "StudentReport") -> tuple[object, ...]:
    share = report.recent.share
    return (
        report.name,
        len(report.days),
        report.until.isoformat(),
        in_figures(report.minutes, ".0f"),
        "" if share is None else in_figures(share, ".0%"),
        len(report.passages),
    )
