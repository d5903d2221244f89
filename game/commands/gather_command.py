"""`homefret gather`: a folder of exports becomes one file by student, of which only what changed is read again."""

import argparse
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from game.commands.answers.gather_answer import GatherAnswer
from game.commands.class_source import OpenedClass, gathered_into_school, keep_from_now_on, opened_class
from game.commands.number_option import whole_number
from game.commands.path_option import name_given, path_given
from game.commands.printing import add_json_flag, print_json
from game.errors import LogError
from game.message import Message
from game.player.class_place import class_place
from game.practice_log.school.school_address import is_school, without_password
from game.text.catalogue import in_english, say, tell


def add_parser(subparsers: Any) -> None:
    """Add `gather` and its words to the program's commands."""
    parser = subparsers.add_parser("gather", help=say("command.gather.summary"))
    parser.add_argument("folder", type=name_given, metavar=say("metavar.folder"), help=say("command.gather.folder"))
    parser.add_argument(
        "--into",
        type=name_given,
        metavar=say("metavar.file_of_kind", ending=".sqlite"),
        help=say("command.gather.into"),
    )
    add_list_word(parser)
    parser.add_argument("--class", dest="class_name", metavar=say("metavar.name"), help=say("command.gather.class"))
    parser.add_argument("--keep-months", type=whole_number, metavar="N", help=say("command.gather.keep_months"))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def add_list_word(parser: argparse.ArgumentParser) -> None:
    """Add `--list`, which says how students are called; it leaves `names`."""
    parser.add_argument(
        "--list",
        dest="names",
        type=path_given,
        metavar=say("metavar.file_of_kind", ending=".csv"),
        help=say("command.gather.list"),
    )


def run(args: argparse.Namespace) -> int:
    """Gather, and say what came; raises `HomefretError` for what the user can mend."""
    args.into = args.into or ""
    if is_school(args.into):
        answer, faults = _into_school(args)
        _answer(answer, faults, as_json=args.json)
        return 0
    if args.keep_months is not None:
        keep_from_now_on(Path(args.folder), Path(args.into) if args.into else None, args.keep_months)
    if args.class_name:
        raise LogError("command.log.only_with", word="--class", **{"with": "--into postgresql://…"})
    with opened_class(args.folder, into=args.into, names=args.names) as opened:
        answer = gather_answer(opened, args.into or str(class_place(Path(args.folder))))
        _answer(answer, opened.faults, as_json=args.json)
    return 0


def _answer(answer: GatherAnswer, faults: Sequence[Message], *, as_json: bool) -> None:
    if as_json:
        print_json(answer)
        return
    counts = {name: getattr(answer, name) for name in ("students", "changed", "read", "takes")}
    print(say("command.gather.done", **counts))
    for fault in faults:
        print(tell(fault))
    print(say("command.gather.where", file=answer.file))


def _into_school(args: argparse.Namespace) -> tuple[GatherAnswer, Sequence[Message]]:
    gathered, came, faults = gathered_into_school(
        Path(args.folder), args.into, args.class_name or "", names=args.names, months=args.keep_months
    )
    answer = GatherAnswer(
        file=without_password(args.into),
        students=came.students,
        changed=came.changed,
        read=gathered.read,
        takes=came.takes,
        faults=[in_english(fault) for fault in faults],
    )
    return answer, faults


def gather_answer(opened: OpenedClass, place: str) -> GatherAnswer:
    """What was gathered, as the command answers it."""
    came = opened.gathered
    return GatherAnswer(
        file=place,
        students=came.students if came else 0,
        changed=came.changed if came else 0,
        read=came.read if came else 0,
        takes=came.takes if came else 0,
        faults=[in_english(fault) for fault in opened.faults],
    )
