"""`homefret erase`: a player and all they played, removed from this computer for good."""

import argparse
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

from game.commands.answers.erase_answer import EraseAnswer
from game.commands.erased_pages import with_pages
from game.commands.path_option import name_given
from game.commands.printing import add_json_flag, print_json
from game.errors import LogError
from game.message import Message, message
from game.player.erasing import PlayerFiles, erase_player, player_files
from game.practice_log.school.school_address import is_school, without_password
from game.text.catalogue import say, tell

_OWN_PAGE = "student-"


def add_parser(subparsers: Any) -> None:
    """Add `erase` and its words to the program's commands."""
    parser = subparsers.add_parser("erase", help=say("command.erase.summary"))
    parser.add_argument("--player", required=True, metavar=say("metavar.name"), help=say("command.erase.player"))
    parser.add_argument(
        "--from",
        dest="source",
        type=name_given,
        metavar=say("metavar.folder"),
        help=say("command.erase.from"),
    )
    parser.add_argument("--yes", action="store_true", help=say("command.erase.yes"))
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Tell what would go, ask where that was not settled, and remove it; raises `HomefretError`."""
    found = with_pages(_found(args.player, args.source or ""))
    if not args.yes and not _agreed(found, asks=not args.json and sys.stdin.isatty() and sys.stdout.isatty()):
        print(say("command.erase.left"))
        return 0
    answer = erase_answer(found)
    erase_player(found, datetime.now().astimezone().date())
    if args.json:
        print_json(answer)
        return 0
    print(say("command.erase.done", count=len(answer.files), name=_name(found)))
    for line in _told_of_others(found):
        print(tell(line))
    return 0


def _found(wanted: str, source: str) -> PlayerFiles:
    if is_school(source):
        return player_files(wanted, school=source)
    return player_files(wanted, Path(source) if source else None)


def erase_answer(found: PlayerFiles) -> EraseAnswer:
    """What goes with a player, as the `erase` command answers it."""
    return EraseAnswer(
        player=_called(found),
        ids=sorted(map(str, found.ids)),
        files=list(map(str, found.files)),
        logs=list(map(str, found.in_logs)),
        classes=list(map(str, found.classes)),
        to_write_anew=list(map(str, _indexes(found))),
        unknown=list(map(str, found.unknown)),
        lists=list(map(str, found.lists)),
        texts=list(map(str, found.texts)),
    )


def _indexes(found: PlayerFiles) -> tuple[Path, ...]:
    return tuple(page for page in found.pages if not page.name.startswith(_OWN_PAGE))


def _told_of_others(found: PlayerFiles) -> Iterator[Message]:
    """What is to be said beside the files that are gone: where they were among others, and what nobody can tell."""
    if found.in_logs:
        yield message("command.erase.out_of_logs", files=found.in_logs)
    if found.classes:
        yield message("command.erase.out_of_class")
    if found.school:
        yield message("command.erase.out_of_school", school=without_password(found.school))
    if _indexes(found):
        source = found.shared or without_password(found.school)
        yield message("command.erase.write_anew", files=_indexes(found), source=source)
    if found.lists:
        yield message("command.erase.in_lists", files=found.lists)
    if found.texts:
        yield message("command.erase.texts", files=found.texts)
    if found.unknown:
        yield message("command.erase.unknown", files=found.unknown)


def _agreed(found: PlayerFiles, *, asks: bool) -> bool:
    """Whether whoever sits at the terminal wants it. Raises `LogError` where nobody can be asked."""
    count, name = len(found.files), _name(found)
    if not asks:
        raise LogError("command.erase.needs_yes", count=count, name=name)
    print(say("command.erase.would_go", count=count, name=name))
    for file in found.files:
        print(f"  {file}")
    for line in _told_of_others(found):
        print(tell(line))
    try:
        said = input(say("command.erase.ask") + " ")
    except EOFError:
        return False
    return said.strip().casefold() in say("command.erase.words_for_yes").split()


def _name(found: PlayerFiles) -> str:
    if found.player is None:
        return _called(found) or str(next(iter(found.ids)))
    return found.player.name or say("command.players.first")


def _called(found: PlayerFiles) -> str:
    if found.player is not None:
        return found.player.name
    return ", ".join(sorted(found.names))
