"""`homefret school`: a school's database, set up, with who teaches which class; and what each class practised."""

import argparse
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from game.clock import wall_time
from game.commands.answers.school_answer import SchoolAnswer, SchoolClass
from game.commands.day_option import day_given
from game.commands.path_option import path_given
from game.commands.printing import add_json_flag, print_json, print_table
from game.commands.school_source import seen_password
from game.errors import LogError, reason_of
from game.message import Message, message
from game.paths import write_whole_file
from game.practice_log.school.head_sums import ClassSums, head_sums
from game.practice_log.school.school_address import is_school, without_password
from game.practice_log.school.school_connection import AskedSchool, SchoolConnection, school_connection
from game.practice_log.school.school_roles import GATHERER, HEAD, give_class, give_role, take_class
from game.practice_log.school.school_schema import refuse_other_version, set_up_school
from game.text.catalogue import in_english, in_figures, say, tell

_COLUMNS = ("class", "teachers", "students", "practised", "minutes", "week_before", "first_sight")


def add_parser(subparsers: Any) -> None:
    """Add `school` and its words to the program's commands."""
    parser = subparsers.add_parser("school", help=say("command.school.summary"))
    parser.add_argument("address", metavar=say("metavar.address"), help=say("command.school.address"))
    parser.add_argument("--set-up", action="store_true", help=say("command.school.set_up"))
    for word in ("gatherer", "head", "teacher"):
        parser.add_argument(f"--{word}", metavar=say("metavar.name"), help=say(f"command.school.{word}"))
    parser.add_argument("--class", dest="class_name", metavar=say("metavar.name"), help=say("command.school.class"))
    parser.add_argument("--no-longer", action="store_true", help=say("command.school.no_longer"))
    parser.add_argument(
        "--out", type=path_given, metavar=say("metavar.file_of_kind", ending=".html"), help=say("command.school.out")
    )
    parser.add_argument("--today", type=day_given, metavar=say("metavar.day"), help=say("command.school.today"))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Do what is asked, and list the classes; raises `HomefretError`."""
    if not is_school(args.address):
        raise LogError("school.no_address", address=args.address)
    _refuse_half_words(args)
    with school_connection(args.address) as connection:
        done = _done(args, connection)
        refuse_other_version(connection)
        today = args.today or wall_time().date()
        classes = head_sums(AskedSchool(connection), today)
    if args.out:
        _write_page(args.out, classes, today)
    faults = seen_password(args.address)
    if args.json:
        print_json(school_answer(args.address, classes, faults))
        return 0
    for one in (*done, *faults):
        print(tell(one))
    if classes:
        print_table(_COLUMNS, map(_row, classes))
    else:
        print(say("command.school.no_class"))
    if args.out:
        print(say("command.report.written", file=args.out))
    return 0


def _refuse_half_words(args: argparse.Namespace) -> None:
    if args.out and args.out.suffix.lower() not in (".html", ".htm"):
        raise LogError("command.report.no_page_ending", out=args.out)
    for word, given in (("--class", args.class_name), ("--no-longer", args.no_longer)):
        if given and not args.teacher:
            raise LogError("command.log.only_with", word=word, **{"with": "--teacher"})
    if args.teacher is not None and not args.class_name:
        raise LogError("command.log.only_with", word="--teacher", **{"with": "--class"})


def _done(args: argparse.Namespace, connection: SchoolConnection) -> tuple[Message, ...]:
    """What was asked for, done in the order in which it is needed."""
    done = []
    if args.set_up:
        set_up_school(connection)
        done.append(message("command.school.is_set_up", address=without_password(args.address)))
    refuse_other_version(connection)
    for person, role, key in ((args.gatherer, GATHERER, "gathers"), (args.head, HEAD, "is_head")):
        if person is not None:
            give_role(connection, person, role)
            done.append(message(f"command.school.{key}", name=person))
    if args.teacher is not None:
        told = {"name": args.teacher, "class": args.class_name}
        if not args.no_longer:
            give_class(connection, args.teacher, args.class_name)
            done.append(message("command.school.teaches", **told))
        elif take_class(connection, args.teacher, args.class_name):
            done.append(message("command.school.taught", **told))
        else:
            raise LogError("command.school.never_taught", **told)
    return tuple(done)


def _write_page(out: Path, classes: Sequence[ClassSums], today: date) -> None:
    from game.report.school_page import school_page  # noqa: PLC0415 - whoever sets up wants no page

    try:
        write_whole_file(out, school_page(classes, today).encode())
    except OSError as error:
        raise LogError("report.not_written", out=out, strerror=reason_of(error)) from error


def school_answer(address: str, classes: Sequence[ClassSums], faults: Sequence[Message] = ()) -> SchoolAnswer:
    """The classes of a school, as the command answers them."""
    return SchoolAnswer(
        address=without_password(address),
        classes=[
            SchoolClass(
                name=one.name,
                teachers=list(one.teachers),
                students=one.students,
                practised=one.practised,
                minutes=round(one.week_minutes, 2),
                before_minutes=round(one.before_minutes, 2),
                takes=one.week_takes,
                read=one.read,
                clean=one.clean,
                read_timed=one.read_timed,
                clean_timed=one.clean_timed,
            )
            for one in classes
        ],
        faults=[in_english(fault) for fault in faults],
    )


def _row(one: ClassSums) -> tuple[object, ...]:
    return (
        one.name,
        ", ".join(one.teachers),
        one.students,
        one.practised,
        in_figures(one.week_minutes, ".0f"),
        in_figures(one.before_minutes, ".0f"),
        "" if one.share is None else in_figures(one.share, ".0%"),
    )
