"""`homefret report`: what practice came to, as a page to read or print, for the player or, over a folder, a teacher."""

import argparse
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from game.clock import wall_time
from game.commands.accepted_words import accepts_words
from game.commands.class_source import opened_class
from game.commands.day_option import day_given
from game.commands.gather_command import add_list_word
from game.commands.path_option import name_given, path_given
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json, print_table
from game.commands.report_answers import class_answer, report_answer
from game.errors import LogError
from game.music.names import NoteNames
from game.player.class_place import class_place
from game.player.players_file import PlayerError
from game.player.profiles import Profile
from game.player.settings_file import load_or_defaults
from game.player.usual_note_names import usual_note_names
from game.player.written_pages import remember_page
from game.practice_log.classes.helper_processes import HelperProcesses
from game.practice_log.school.school_address import is_school, without_password
from game.text.catalogue import in_figures, say

if TYPE_CHECKING:
    from game.report.report_files import WrittenClass, WrittenReport
    from game.report.student import ReportSums

_COLUMNS = ("name", "days", "last_day", "minutes", "first_sight", "passages")
DEFAULT_NAME, DEFAULT_INDEX = "homefret-report.html", "index.html"


def add_parser(subparsers: Any) -> None:
    """Add `report` and its words to the program's commands."""
    parser = subparsers.add_parser(
        "report", help=say("command.report.summary"), epilog=say("command.report.of_a_class")
    )
    parser.add_argument(
        "--from", dest="source", type=name_given, metavar=say("metavar.folder"), help=say("command.report.from")
    )
    parser.add_argument(
        "--out",
        type=path_given,
        metavar=say("metavar.file_of_kind", ending=".html"),
        help=say("command.report.out", default=DEFAULT_NAME, index=DEFAULT_INDEX),
    )
    parser.add_argument("--today", type=day_given, metavar=say("metavar.day"), help=say("command.report.today"))
    add_list_word(parser)
    parser.add_argument("--initials", action="store_true", help=say("command.report.initials"))
    add_player_word(parser)
    add_json_flag(parser)
    parser.add_argument(
        "--marks", type=path_given, metavar=say("metavar.file_of_kind", ending=".csv"), help=say("command.report.marks")
    )
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Write the report and say where it is; raises `HomefretError` for what the user can mend."""
    if args.out and args.out.suffix.lower() not in (".html", ".htm"):
        raise LogError("command.report.no_page_ending", out=args.out)
    if args.source:
        written = class_written(args)
        if args.marks:
            _remember(args.source, args.marks)
            write_marks_of(written, args.marks)
        _answer_class(written, args)
        return 0
    _refuse_alone(args)
    own = own_written(player_from(args), args.out)
    if args.json:
        print_json(report_answer(own))
    else:
        print_table(_COLUMNS, [_row(own.report.sums)])
        print(say("command.report.written", file=own.files[0]))
    return 0


def _refuse_alone(args: argparse.Namespace) -> None:
    """Words of a class mean nothing for a player's own report."""
    if args.marks:
        raise LogError("command.report.marks_of_a_class")
    for word, given in (("--today", args.today), ("--list", args.names), ("--initials", args.initials)):
        if given:
            raise LogError("command.log.only_with", word=word, **{"with": "--from"})


def own_written(player: Profile, out: Path | None) -> "WrittenReport":
    """Write a player's own report."""
    from game.report.report_files import write_own_report  # noqa: PLC0415 - the drawing library is slow

    return write_own_report(player.log_path, out or Path(DEFAULT_NAME), name=player.name, names=_names_of(player))


def class_written(args: argparse.Namespace) -> "WrittenClass":
    """Write the pages of a class, the notes called as whoever asks calls them."""
    from game.report.drawn_students import make_ready  # noqa: PLC0415 - what pages are made with is slow to load
    from game.report.report_files import ClassPages, write_class  # noqa: PLC0415 - the same

    try:
        names = _names_of(player_from(args))
    except PlayerError:
        names = usual_note_names()
    with (
        HelperProcesses(afterwards=make_ready) as helpers,
        opened_class(args.source, names=args.names, helpers=helpers) as opened,
    ):
        pages = ClassPages(
            index=args.out or _index_of(args.source),
            today=args.today or wall_time().date(),
            accepts=accepts_words(),
            names=names,
            initials=args.initials,
            by_file=not is_school(args.source),
            told=args.json,
            file=opened.file,
        )
        _remember(args.source, pages.index)
        return write_class(opened.asked, pages, faults=opened.faults, helpers=helpers)


def _remember(source: str, index: Path) -> None:
    """Where pages and marks are written, before they are: who is erased is to go from there, however the writing
    ends.
    """
    if is_school(source):
        address = without_password(source)
        remember_page(address, address, index)
        return
    place = class_place(Path(source)) if Path(source).is_dir() else Path(source)
    remember_page(Path(source), place, index)


def _index_of(source: str) -> Path:
    """Where the page of all goes: into the folder of a class, beside its file, or, of a database, here."""
    if is_school(source):
        return Path(DEFAULT_INDEX)
    return (Path(source) if Path(source).is_dir() else Path(source).parent) / DEFAULT_INDEX


def _names_of(player: Profile) -> NoteNames:
    """How the player calls the notes; settings that cannot be read are no reason to write no report."""
    return load_or_defaults(player.settings_path).settings.note_names


def write_marks_of(written: "WrittenClass", out: Path) -> None:
    """The marks of a class, as they stand on the day of its page, under the names that stand there."""
    from game.report.marks_file import write_marks  # noqa: PLC0415 - numbers are slow to load

    write_marks(out, [replace(one.week, name=one.name) for one in written.mondays])


def _answer_class(written: "WrittenClass", args: argparse.Namespace) -> None:
    if args.json:
        print_json(class_answer(written, args.marks))
        return
    needs = {student.monday.page: student.monday.week.need for student in written.students}
    rows = [(*_row(one.sums), say(f"monday.need.{needs[one.monday.page].value}")) for one in written.students]
    print_table((*_COLUMNS, "need"), rows)
    print(say("command.report.table_of_all"))
    for fault in written.faults:
        print(say("command.report.left_out", fault=fault))
    print(say("command.report.written", file=written.index))
    if args.marks:
        print(say("command.report.marks_written", out=args.marks))


def _row(sums: "ReportSums") -> tuple[object, ...]:
    return (
        sums.name,
        sums.days,
        sums.until.isoformat(),
        in_figures(sums.minutes, ".0f"),
        "" if sums.share is None else in_figures(sums.share, ".0%"),
        sums.passages,
    )
