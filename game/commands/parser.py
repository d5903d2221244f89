"""The parser of the program's words: what it says comes from the text catalogue, and its complaints are one line."""

import argparse
import importlib
from collections.abc import Sequence
from typing import NoReturn

from game import __version__
from game.commands.argparse_words import teach_argparse
from game.commands.command_names import COMMANDS
from game.text.catalogue import say


class CommandParser(argparse.ArgumentParser):
    """A parser whose complaints are one line of ours."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, say("command.mistake", mistake=say("command.see_help", fault=message, program=self.prog)) + "\n")


def command_parser(words: Sequence[str]) -> CommandParser:
    """A parser for these words: of the command that the first one names, or of all."""
    teach_argparse()
    parser = CommandParser(prog="homefret", description=say("command.description"))
    parser.add_argument("--version", action="version", version=f"homefret {__version__}", help=say("argparse.version"))
    subparsers = parser.add_subparsers(dest="command", required=True, metavar=say("metavar.command"))
    for name in [name for name in COMMANDS if name in words[:1]] or COMMANDS:
        importlib.import_module(f"game.commands.{name}_command").add_parser(subparsers)
    return parser
