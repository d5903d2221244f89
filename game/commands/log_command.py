"""`homefret log`: what the practice log holds; back-up, restore, and export for the teacher."""

import argparse
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from game.commands.answers import add_json_flag, print_json
from game.commands.player_option import add_player_word, player_from
from game.player.player_log import LOG_FILE
from game.player.profiles import Player
from game.practice_log.database.opening import opened_log, player_meant
from game.practice_log.transfer.backup import back_up, checked, restore
from game.practice_log.transfer.export import write_export


def add_parser(subparsers: Any) -> None:
    """Add `log` and its words to the program's commands."""
    parser = subparsers.add_parser("log", help="the practice log: back-up, restore, export for the teacher")
    what = parser.add_mutually_exclusive_group()
    what.add_argument("--back-up", type=Path, metavar="FILE", help="copy the whole log into a new file")
    what.add_argument(
        "--restore", type=Path, metavar="FILE", help="put a back-up in its place; the present log is kept"
    )
    what.add_argument("--export", type=Path, metavar="FILE.zip", help="all you practised as one file, for the teacher")
    add_player_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Do what was asked and say so; raises `HomefretError` for what the user can mend."""
    answer, sentence = _done(args, player_from(args))
    if args.json:
        print_json(answer)
    else:
        print(sentence)
    return 0


def _done(args: argparse.Namespace, player: Player) -> tuple[dict[str, Any], str]:
    log = player.folder / LOG_FILE
    answer: dict[str, Any] = {"log": str(log), "takes": 0, "file": None, "kept": None}
    if args.back_up:
        answer |= {"takes": back_up(log, args.back_up), "file": str(args.back_up)}
        return answer, f"{answer['takes']} takes copied into {args.back_up}"
    if args.restore:
        takes, kept = restore(args.restore, log, now_utc=datetime.now(UTC))
        answer |= {"takes": takes, "file": str(args.restore), "kept": str(kept) if kept else None}
        before = f"; the log before is kept in {kept}" if kept else ""
        return answer, f"{takes} takes restored from {args.restore}{before}"
    if args.export:
        contents = _export(log, player, args.export)
        answer |= {"takes": contents["rows"]["take"], "file": str(args.export), "contents": contents}
        return answer, f"{answer['takes']} takes written to {args.export}"
    answer["takes"] = checked(log) if log.exists() else 0
    return answer, f"{answer['takes']} takes in {log}"


def _export(log: Path, player: Player, out: Path) -> dict[str, Any]:
    with opened_log(log) as connection:
        meant = player_meant(connection, log, player.name)
        return write_export(connection, meant, out, now=datetime.now().astimezone())
