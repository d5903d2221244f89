"""`homefret erase`: a player and all they played, removed from this computer for good."""

import argparse
import html
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from game.commands.answers.erase_answer import EraseAnswer
from game.commands.path_option import name_given
from game.commands.printing import add_json_flag, print_json
from game.errors import LogError
from game.message import Message, message
from game.paths import without_links
from game.player.erasing import PlayerFiles, erase_player, player_files
from game.player.written_pages import written_of
from game.practice_log.school.school_address import is_school, without_password
from game.report.page_names import page_name
from game.text.catalogue import say, tell

DEFAULT_INDEX, OWN_PAGE = "index.html", "student-"
OURS = '<meta name="generator" content="Homefret'
"""In each page of ours (`content/report`)."""


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


def with_pages(found: PlayerFiles) -> PlayerFiles:
    """The same with all that was written of them: their own pages, with the tables beside, and the pages that name
    them.
    """
    indexes = _class_pages(found)
    own = [file for index in indexes for uuid in sorted(found.paged) for file in _own_pages(index, page_name(uuid))]
    naming = [index for index in indexes if _names_them(index, found)]
    return replace(found, pages=tuple(dict.fromkeys([*own, *naming])))


def _class_pages(found: PlayerFiles) -> tuple[Path, ...]:
    """The pages of all that were written of the class, and the one that is written where nobody says otherwise."""
    usual = [found.shared / DEFAULT_INDEX] if found.shared is not None and found.shared.is_dir() else []
    school = [without_password(found.school)] if found.school else []
    sources: list[Path | str] = [*filter(None, [found.shared]), *found.classes, *school]
    written = [Path(one.page) for source in sources for one in written_of(source) if one.page]
    return tuple(dict.fromkeys(without_links(path) for path in (*usual, *written)))


def _own_pages(index: Path, name: str) -> Iterator[Path]:
    page = index.with_name(name)
    if index.parent.is_dir():
        yield from (path for path in (page, *sorted(index.parent.glob(f"{page.stem}-*.csv"))) if path.is_file())


def _names_them(file: Path, found: PlayerFiles) -> bool:
    """Whether a file that was written of the class tells an id of theirs, as marks do; or is a page of ours that leads
    to their page or calls them by a name.
    """
    try:
        text = file.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return False
    if any(str(uuid) in text for uuid in found.ids):
        return True
    called = [*(page_name(uuid) for uuid in found.paged), *(html.escape(name) for name in found.names)]
    return OURS in text and any(one in text for one in called)


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
    )


def _indexes(found: PlayerFiles) -> tuple[Path, ...]:
    return tuple(page for page in found.pages if not page.name.startswith(OWN_PAGE))


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
