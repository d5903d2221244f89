"""`homefret erase`: a player and all they played, removed from this computer for good."""

import argparse
import sys
from datetime import datetime
from pathlib import Path
from typing import Any

from game.commands.answers.erase_answer import EraseAnswer
from game.commands.printing import add_json_flag, print_json
from game.errors import LogError
from game.player.erasing import PlayerFiles, erase_player, player_files
from game.text.catalogue import say


def add_parser(subparsers: Any) -> None:
    """Add `erase` and its words to the program's commands."""
    parser = subparsers.add_parser("erase", help=say("command.erase.summary"))
    parser.add_argument("--player", required=True, metavar=say("metavar.name"), help=say("command.erase.player"))
    parser.add_argument(
        "--from", type=Path, dest="folder", metavar=say("metavar.folder"), help=say("command.erase.from")
    )
    parser.add_argument("--yes", action="store_true", help=say("command.erase.yes"))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Tell what would go, ask where that was not settled, and remove it; raises `HomefretError`."""
    found = player_files(args.player, args.folder)
    if not args.yes and not _agreed(found, asks=not args.json and sys.stdin.isatty() and sys.stdout.isatty()):
        print(say("command.erase.left"))
        return 0
    answer = erase_answer(found)
    erase_player(found, datetime.now().astimezone().date())
    if args.json:
        print_json(answer)
    else:
        print(say("command.erase.done", count=len(answer.files), name=_name(found)))
    return 0


def erase_answer(found: PlayerFiles) -> EraseAnswer:
    """What goes with a player, as the `erase` command answers it."""
    name = found.player.name if found.player else ""
    return EraseAnswer(player=name, ids=sorted(map(str, found.ids)), files=list(map(str, found.files)))


def _agreed(found: PlayerFiles, *, asks: bool) -> bool:
    """Whether whoever sits at the terminal wants it. Raises `LogError` where nobody can be asked."""
    count, name = len(found.files), _name(found)
    if not asks:
        raise LogError("command.erase.needs_yes", count=count, name=name)
    print(say("command.erase.would_go", count=count, name=name))
    for file in found.files:
        print(f"  {file}")
    try:
        said = input(say("command.erase.ask") + " ")
    except EOFError:
        return False
    return said.strip().casefold() in say("command.erase.words_for_yes").split()


def _name(found: PlayerFiles) -> str:
    if found.player is None:
        return str(next(iter(found.ids)))
    return found.player.name or say("command.players.first")
