"""`homefret FILE`: the game with tunes or an assignment open, as a desktop hands them over."""

import os
from collections.abc import Sequence
from pathlib import Path

from game.commands.command_names import COMMANDS
from game.errors import TuneError


def files_to_open(words: Sequence[str]) -> tuple[Path, ...] | None:
    """The files and folders that the program's words name, None where these are a command or options. A file with the
    name of a command is named by its folder, too: `./map`. Raises `TuneError` where one of them is not there.
    """
    if not words or words[0] in COMMANDS or words[0].startswith("-") or not any(map(_is_path, words)):
        return None
    for word in words:
        if not os.path.exists(word):  # noqa: PTH110 - whatever the name is made of, it only answers yes or no
            raise TuneError("tune.no_such_file", file=word)
    return tuple(Path(word).absolute() for word in words)


def _is_path(word: str) -> bool:
    """Whether a word names a file rather than a command that is misspelled."""
    return os.path.exists(word) or bool(Path(word).suffix) or len(Path(word).parts) > 1  # noqa: PTH110 - as above
