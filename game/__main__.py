"""The `homefret` command. Without a word after it, the game."""

import argparse
import importlib
import sys
from collections.abc import Sequence
from typing import NoReturn

from game import __version__
from game.errors import HomefretError
from game.text.catalogue import tell

_COMMANDS = ("demo", "score", "map", "take", "line", "add", "devices", "report", "assign", "log", "players")


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status: 0, or 2 for a mistake of the user's, told in one line."""
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        if not words:
            # The game must be on screen at once: it does not wait for the parsers of the other commands.
            from game.commands import play_command  # noqa: PLC0415

            return play_command.run()
        args = _parser(words).parse_args(words)
        return int(args.run(args))
    except HomefretError as error:
        print(f"homefret: {tell(error.message)}", file=sys.stderr)
        return 2
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        sys.stderr.close()
        return 1


class _Parser(argparse.ArgumentParser):
    """A parser whose complaints are one line of ours."""

    def error(self, message: str) -> NoReturn:
        self.exit(2, f"homefret: {message}; see '{self.prog} --help'\n")


def _parser(words: Sequence[str]) -> argparse.ArgumentParser:
    parser = _Parser(
        prog="homefret",
        description="Learn to read music on the guitar: one fixed place on the neck for every written note. "
        "Without a command: the game.",
    )
    parser.add_argument("--version", action="version", version=f"homefret {__version__}")
    subparsers = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    wanted = [name for name in _COMMANDS if name in words[:1]] or _COMMANDS
    for name in wanted:
        importlib.import_module(f"game.commands.{name}_command").add_parser(subparsers)
    return parser


if __name__ == "__main__":
    sys.exit(main())
