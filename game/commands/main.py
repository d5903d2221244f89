"""A command from its words to its exit status."""

import sys
from collections.abc import Sequence

from game.commands.files_to_open import files_to_open
from game.commands.interruption import end_tidily
from game.commands.parser import command_parser
from game.commands.privacy import private_files
from game.commands.spoken_language import speak_for
from game.errors import HomefretError
from game.text.catalogue import say


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status: 0, or 2 for a mistake of the user's, told in one line."""
    words = list(sys.argv[1:] if argv is None else argv)
    speak_for()
    try:
        with private_files(words):
            return _done(words)
    except HomefretError as error:
        print(say("command.mistake", mistake=error.message), file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 1


def _done(words: Sequence[str]) -> int:
    opened = files_to_open(words)
    if not words or opened:
        # The game must be on screen at once: it does not wait for the parsers of the other commands.
        from game.commands import play_command  # noqa: PLC0415

        end_tidily()
        return play_command.run(opened or ())
    args = command_parser(words).parse_args(words)
    if getattr(args, "player", None):
        speak_for(args.player)
    end_tidily()
    return int(args.run(args))
