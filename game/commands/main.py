"""A command from its words to its exit status."""

import errno
import os
import sys
from collections.abc import Sequence
from contextlib import suppress

from game.commands.files_to_open import files_to_open
from game.commands.interruption import end_tidily
from game.commands.parser import command_parser
from game.commands.privacy import private_files
from game.commands.spoken_language import speak_for
from game.errors import HomefretError, reason_of
from game.message import Message, message
from game.text.catalogue import say

_NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
"""Why what is printed cannot be put where it was sent (POSIX, errno.h)."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status: 0, or 2 for a mistake of the user's, or what a file or the system
    refuses, told in one line.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    _put_in_what_is_closed()
    speak_for()
    try:
        try:
            with private_files(words):
                return _done(words)
        finally:
            sys.stdout.flush()
    except HomefretError as error:
        print(say("command.mistake", mistake=error.message), file=sys.stderr)
        return 2
    except BrokenPipeError:
        _print_nowhere()
        return 1
    except OSError as error:
        fault = _refused(error)
        if fault is None:
            raise
        print(say("command.mistake", mistake=fault), file=sys.stderr)
        if error.filename is None:
            _print_nowhere()
        return 2


def _refused(error: OSError) -> Message | None:
    """What the system refuses, where no command had a sentence of its own; None for what is no matter of files."""
    if error.filename is not None:
        return message("command.file_refused", file=str(error.filename), reason=reason_of(error))
    return message("command.not_printed", reason=reason_of(error)) if error.errno in _NO_ROOM else None


def _put_in_what_is_closed() -> None:
    """Something to print to, where whoever runs a command has closed it."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, "w", encoding="utf-8"))  # noqa: PTH123, SIM115 - until the program ends


def _print_nowhere() -> None:
    """What is left to be printed would be refused once more at the end, with a traceback."""
    # Who runs a command from within Python may have put in something that is no file.
    with suppress(OSError), open(os.devnull, "w", encoding="utf-8") as nowhere:  # noqa: PTH123
        os.dup2(nowhere.fileno(), sys.stdout.fileno())


def _done(words: Sequence[str]) -> int:
    opened = files_to_open(words)
    if not words or opened:
        # The game must be on screen at once: it does not wait for the parsers of the other commands.
        from game.commands import play_command  # noqa: PLC0415

        return play_command.run(opened or ())
    args = command_parser(words).parse_args(words)
    if getattr(args, "player", None):
        speak_for(args.player)
    end_tidily()
    return int(args.run(args))
