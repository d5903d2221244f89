"""Numbers on the command line, for `argparse`, which tells of any other word."""

import argparse

from game.text.catalogue import say


def whole_number(text: str) -> int:
    """A whole number in figures, of whatever script."""
    try:
        return int(text)
    except ValueError:
        raise argparse.ArgumentTypeError(say("command.option.no_whole_number", text=text)) from None


def number(text: str) -> float:
    """A number in figures, with a point where it is broken."""
    try:
        return float(text)
    except ValueError:
        raise argparse.ArgumentTypeError(say("command.option.no_number", text=text)) from None
