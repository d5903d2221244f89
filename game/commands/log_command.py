"""`homefret log`: what the practice log holds; back-up, restore, and export for the teacher."""

import argparse
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from game.commands.answers.log_answer import LogAnswer
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json
from game.message import Message, message
from game.player.profiles import Profile
from game.practice_log.database.opening import log_owner, opened_log
from game.practice_log.transfer.backup import back_up, checked_take_count
from game.practice_log.transfer.export import write_export
from game.practice_log.transfer.restoring import restore
from game.text.catalogue import say, tell


def add_parser(subparsers: Any) -> None:
    """Add `log` and its words to the program's commands."""
    parser = subparsers.add_parser("log", help=say("command.log.summary"))
    what = parser.add_mutually_exclusive_group()
    file, packed = say("metavar.file"), say("metavar.file_of_kind", ending=".zip")
    what.add_argument("--back-up", type=Path, metavar=file, help=say("command.log.back_up"))
    what.add_argument("--restore", type=Path, metavar=file, help=say("command.log.restore"))
    what.add_argument("--export", type=Path, metavar=packed, help=say("command.log.export"))
    add_player_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Do what was asked and say so; raises `HomefretError` for what the user can mend."""
    answer, said = _done(args, player_from(args))
    if args.json:
        print_json(answer)
    else:
        print(tell(said))
    return 0


def _done(args: argparse.Namespace, player: Profile) -> tuple[LogAnswer, Message]:
    log = player.log_path
    if args.back_up:
        return _backed_up(log, args.back_up)
    if args.restore:
        return _restored(log, args.restore)
    if args.export:
        return _exported(log, player, args.export)
    takes = checked_take_count(log) if log.exists() else 0
    return LogAnswer(log=str(log), takes=takes), message("command.log.takes", count=takes, log=log)


def _backed_up(log: Path, copy: Path) -> tuple[LogAnswer, Message]:
    takes = back_up(log, copy)
    said = message("command.log.backed_up", count=takes, file=copy)
    return LogAnswer(log=str(log), takes=takes, file=str(copy)), said


def _restored(log: Path, copy: Path) -> tuple[LogAnswer, Message]:
    takes, kept = restore(copy, log, now_utc=datetime.now(UTC))
    answer = LogAnswer(log=str(log), takes=takes, file=str(copy), kept=str(kept) if kept else None)
    if kept is None:
        return answer, message("command.log.restored", count=takes, file=copy)
    return answer, message("command.log.restored_over_another", count=takes, file=copy, kept=kept)


def _exported(log: Path, player: Profile, out: Path) -> tuple[LogAnswer, Message]:
    with opened_log(log) as connection:
        meant = log_owner(connection, log, player.name)
        contents = write_export(connection, meant, out, now=datetime.now().astimezone())
    takes = contents.rows["take"]
    answer = LogAnswer(log=str(log), takes=takes, file=str(out), contents=contents)
    return answer, message("command.log.exported", count=takes, file=out)
