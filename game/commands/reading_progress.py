"""How far the reading of many files has come: one line of standard error, where a person looks at it."""

import sys

from game.text.catalogue import say


def tell_progress(number: int, count: int) -> None:
    """Say which file of how many is read now, counted from 1, in the place of what was said before; with a `number`
    past `count` wipe the line. Nothing is said of a single file, nor where standard error is no terminal.
    """
    if count <= 1 or not sys.stderr.isatty():
        return
    going = say("command.add.reading", number=min(number, count), count=count)
    shown = f"{' ' * len(going)}\r" if number > count else going
    print(f"\r{shown}", end="", file=sys.stderr, flush=True)


def tell_nobody(number: int, count: int) -> None:
    """Say nothing."""
