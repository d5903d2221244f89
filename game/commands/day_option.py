"""A day on the command line."""

import argparse
from datetime import date

from game.text.catalogue import say


def day_given(text: str) -> date:
    """A day as "2026-03-14" (ISO 8601), for `argparse`, which tells of any other word."""
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(say("command.take.no_day", text=text)) from None
