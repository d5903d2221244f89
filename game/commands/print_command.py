"""`homefret print`: today's pages, tunes, an assignment or unseen lines on paper, as PDF."""

import argparse
import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING, Any

from game.assignments.assignment_reader import ENDING
from game.clock import SystemClock
from game.commands.answers.print_answer import PrintAnswer
from game.commands.number_option import whole_number
from game.commands.path_option import path_given
from game.commands.player_option import add_player_word, player_from
from game.commands.printing import add_json_flag, print_json
from game.commands.tunes_of_files import tunes_of
from game.errors import TuneError, reason_of
from game.music.score import Score
from game.paths import write_whole_file
from game.player.profiles import Profile
from game.player.session import open_session
from game.text.catalogue import say

if TYPE_CHECKING:
    from game.report.printed_pages import Paper, PrintedPiece
    from game.screens.context import ScreenContext

MOST_LINES = 50
"""Unseen lines in one file: a folder of two months. Ours."""


def add_parser(subparsers: Any) -> None:
    """Add `print` and its words to the program's commands."""
    parser = subparsers.add_parser("print", help=say("command.print.summary"))
    parser.add_argument(
        "files", nargs="*", type=path_given, metavar=say("metavar.file"), help=say("command.print.files")
    )
    parser.add_argument("--lines", type=whole_number, metavar="N", help=say("command.print.lines"))
    parser.add_argument("--paper", default="a4", metavar="a4|letter", help=say("command.print.paper"))
    ending = say("metavar.file_of_kind", ending=".pdf")
    parser.add_argument("--out", type=path_given, required=True, metavar=ending, help=say("command.print.out"))
    add_player_word(parser)
    add_json_flag(parser)
    parser.set_defaults(run=run)


def run(args: argparse.Namespace) -> int:
    """Print and say what; raises `HomefretError` for what the player can mend."""
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    # ruff: noqa: PLC0415 - what is behind brings the whole desk with it: the other commands do not wait for that
    from game.report.printed_pages import printed_pages

    paper, lines = _paper(args.paper), _number_of_lines(args.lines)
    pieces = _pieces(player_from(args), args.files, lines)
    if not pieces:
        raise TuneError("command.print.nothing")
    _write(args.out, printed_pages(pieces, paper))
    titles = [piece.title for piece in pieces]
    if args.json:
        print_json(PrintAnswer(file=str(args.out), pieces=titles))
    else:
        print(say("command.print.written", path=args.out, count=len(titles)))
    return 0


def _pieces(player: Profile, files: Sequence[Path], lines: int) -> "list[PrintedPiece]":
    """What was asked for, in the order of the words; today's pages where nothing was."""
    from game.screens.choosing import pieces_to_print as to_print

    pieces: list[PrintedPiece] = []
    with _desk(player) as context:
        chance = Random()
        for path in files:
            if path.suffix.casefold() == ENDING:
                pieces += to_print.assigned_pieces(context, path, chance)
            else:
                pieces += to_print.tune_pieces(context, _tunes(path))
        pieces += to_print.unseen_pieces(context, lines, chance)
        if not files and not lines:
            pieces += to_print.todays_pieces(context, chance)
    return pieces


def _tunes(path: Path) -> tuple[Score, ...]:
    scores, unread = tunes_of([path], None)
    if unread:
        raise TuneError(unread[0].fault)
    return scores


@contextmanager
def _desk(player: Profile) -> "Iterator[ScreenContext]":
    """The player's session, with nothing plugged in and no window."""
    from game.screens.context import ScreenContext
    from game.screens.devices import Devices
    from game.screens.window import Window

    session = open_session(player, SystemClock())
    try:
        session.begin_practice()
        yield ScreenContext(session=session, devices=Devices(), window=Window())
    finally:
        unwritten = session.close()
    if unwritten:
        raise TuneError(unwritten)


def _paper(name: str) -> "Paper":
    from game.report.printed_pages import Paper

    try:
        return Paper[name.upper()]
    except KeyError:
        raise TuneError("command.print.no_paper", name=name, papers=tuple(one.name for one in Paper)) from None


def _number_of_lines(number: int | None) -> int:
    if number is not None and not 1 <= number <= MOST_LINES:
        raise TuneError("command.print.lines_range", most=MOST_LINES, number=number)
    return number or 0


def _write(path: Path, document: bytes) -> None:
    try:
        write_whole_file(path, document)
    except OSError as error:
        raise TuneError("command.print.not_written", path=path, strerror=reason_of(error)) from error
