"""How commands answer: a line or a table for people, or one JSON object and nothing else on standard output."""

import argparse
import json
import sys
from collections.abc import Iterable

import msgspec

from game.commands.answers.kinds import Answer
from game.text.catalogue import say


def add_json_flag(parser: argparse.ArgumentParser) -> None:
    """The flag every command has."""
    parser.add_argument("--json", action="store_true", help=say("command.option.json"))


def print_json(answer: Answer) -> None:
    """Print one JSON object. Bytes of a file's name that are no UTF-8 stand in it as Python has them (PEP 383)."""
    try:
        text = msgspec.json.format(msgspec.json.encode(answer), indent=2).decode()
    except UnicodeEncodeError:
        text = json.dumps(msgspec.to_builtins(answer), indent=2)
    sys.stdout.write(text + "\n")


def print_table(columns: Iterable[str], rows: Iterable[Iterable[object]]) -> None:
    """Print rows in columns as wide as their widest entry; None is an empty cell. `columns` are headings by the ends of
    their keys, "" for none.
    """
    headings = [say(f"column.{column}") if column else "" for column in columns]
    table = [headings, *([("" if cell is None else str(cell)) for cell in row] for row in rows)]
    widths = [max(len(row[column]) for row in table) for column in range(len(headings))]
    for row in table:
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
