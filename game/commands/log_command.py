"""`homefret log`: what the practice log holds; back-up, restore, export for the teacher, gathering and sharing."""

import argparse
import sys
from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec

from game.clock import wall_time
from game.commands.answers.log_answer import LogAnswer
from game.commands.day_option import day_given
from game.commands.log_words import export_in_words, gathered_answer, gathered_in_words, in_words, log_answer
from game.commands.path_option import path_given
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json
from game.errors import LogError
from game.message import Message, message
from game.player.profiles import Profile
from game.practice_log.back_ups.backup import back_up
from game.practice_log.back_ups.restoring import restore
from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.transfer.contents import ToldName
from game.practice_log.transfer.exchange import exchange
from game.practice_log.transfer.export import Exported, planned_export, write_planned
from game.practice_log.transfer.gather import Gathered, gather
from game.practice_log.transfer.shared_folder import remember_shared
from game.text.catalogue import say, tell

Done = tuple[LogAnswer, Iterable[Message]]
"""The answer, and what is said of it to people, a line each."""


def add_parser(subparsers: Any) -> None:
    """Add `log` and its words to the program's commands."""
    parser = subparsers.add_parser("log", help=say("command.log.summary"))
    what = parser.add_mutually_exclusive_group()
    file, packed = say("metavar.file"), say("metavar.file_of_kind", ending=".zip")
    what.add_argument("--back-up", type=path_given, metavar=file, help=say("command.log.back_up"))
    what.add_argument("--restore", type=path_given, metavar=file, help=say("command.log.restore"))
    what.add_argument("--export", type=path_given, metavar=packed, help=say("command.log.export"))
    what.add_argument("--gather", type=path_given, nargs="+", metavar=file, help=say("command.log.gather"))
    what.add_argument("--share", metavar=say("metavar.folder"), help=say("command.log.share"))
    parser.add_argument("--since", type=day_given, metavar=say("metavar.day"), help=say("command.log.since"))
    parser.add_argument("--without-notes", action="store_true", help=say("command.log.without_notes"))
    parser.add_argument("--as-one", action="store_true", help=say("command.log.as_one"))
    named = parser.add_mutually_exclusive_group()
    named.add_argument("--without-name", action="store_true", help=say("command.log.without_name"))
    named.add_argument("--initials", action="store_true", help=say("command.log.initials"))
    parser.add_argument("--yes", action="store_true", help=say("command.log.yes"))
    add_player_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Do what was asked and say so; raises `HomefretError` for what the user can mend."""
    _refuse_alone(args)
    answer, said = _done(args, player_from(args))
    if args.json:
        print_json(answer)
    else:
        for line in said:
            print(tell(line))
    return 0


def _refuse_alone(args: argparse.Namespace) -> None:
    """Words that go with another one mean nothing without it."""
    pairs = (
        ("--since", args.since, "--export", args.export),
        ("--without-notes", args.without_notes, "--export", args.export),
        ("--without-name", args.without_name, "--export", args.export),
        ("--initials", args.initials, "--export", args.export),
        ("--yes", args.yes, "--export", args.export),
        ("--as-one", args.as_one, "--gather", args.gather or args.share),
    )
    for word, given, goes_with, other in pairs:
        if given and not other:
            raise LogError("command.log.only_with", word=word, **{"with": goes_with})


def _done(args: argparse.Namespace, player: Profile) -> Done:
    log = player.log_path
    if args.back_up:
        return _backed_up(log, args.back_up)
    if args.restore:
        return _restored(log, args.restore)
    if args.export:
        return _exported(log, player, args)
    if args.gather:
        return _gathered(log, gather(log, args.gather, now=wall_time(), as_one=args.as_one))
    if args.share is not None:
        return _shared(log, args.share, as_one=args.as_one)
    answer = log_answer(log)
    return answer, in_words(answer)


def _backed_up(log: Path, copy: Path) -> Done:
    takes = back_up(log, copy)
    said = message("command.log.backed_up", count=takes, file=copy)
    return msgspec.structs.replace(log_answer(log), takes=takes, file=str(copy)), [said]


def _restored(log: Path, copy: Path) -> Done:
    takes, kept = restore(copy, log, now_utc=datetime.now(UTC))
    answer = msgspec.structs.replace(log_answer(log), takes=takes, file=str(copy), kept=str(kept) if kept else None)
    if kept is None:
        return answer, [message("command.log.restored", count=takes, file=copy)]
    return answer, [message("command.log.restored_over_another", count=takes, file=copy, kept=kept)]


def _exported(log: Path, player: Profile, args: argparse.Namespace) -> Done:
    """What will be in the file is told before it is written, and at a terminal it can be left."""
    out = args.export
    told_name = ToldName.NONE if args.without_name else ToldName.INITIALS if args.initials else ToldName.WHOLE
    what = Exported(since=args.since, with_notes=not args.without_notes, told_name=told_name)
    with opened_log(log) as connection:
        meant = log_owner(connection, log, player.name)
        plan = planned_export(connection, meant, out, now=wall_time(), what=what)
        if not args.json:
            for line in export_in_words(plan, out):
                print(tell(line))
        if not (args.json or args.yes or _agreed()):
            return log_answer(log), [message("command.log.not_exported")]
        contents = write_planned(connection, plan, out)
    takes = contents.rows["take"]
    answer = msgspec.structs.replace(log_answer(log), takes=takes, file=str(out), contents=contents)
    return answer, [message("command.log.exported", count=takes, file=out)]


def _agreed() -> bool:
    """Whether whoever sits at the terminal goes on; where nobody does, the words of the command were enough."""
    if not _at_a_terminal():
        return True
    try:
        said = input(say("command.log.ask_export") + " ").strip().casefold()
    except EOFError:
        return False
    return not said or said in say("command.erase.words_for_yes").split()


def _at_a_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def _gathered(log: Path, gathered: Gathered) -> Done:
    if gathered.faults and not gathered.files:
        raise LogError(gathered.faults[0])
    answer = msgspec.structs.replace(log_answer(log), gathered=gathered_answer(gathered))
    return answer, gathered_in_words(gathered)


def _shared(log: Path, folder: str, *, as_one: bool) -> Done:
    """Shared through a folder from now on, and at once; through none where no folder is named."""
    remember_shared(log.parent, Path(folder) if folder.strip() else None)
    exchanged = exchange(log, now=wall_time(), as_one=as_one)
    if exchanged is None:
        return msgspec.structs.replace(log_answer(log), shared=None), [message("command.log.shared_no_longer")]
    answer = msgspec.structs.replace(
        log_answer(log), shared=str(exchanged.folder), gathered=gathered_answer(exchanged.gathered)
    )
    told = (message("command.log.shared", folder=exchanged.folder), message("sharing.holds"))
    said = [*told, *gathered_in_words(exchanged.gathered)]
    return answer, said
