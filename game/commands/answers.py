"""How commands answer: a line or a table for people, or one JSON object and nothing else on standard output."""

import argparse
import sys
from collections.abc import Iterable
from typing import Any

import msgspec


def add_json_flag(parser: argparse.ArgumentParser) -> None:
    """The flag every command has."""
    parser.add_argument("--json", action="store_true", help="one JSON object on standard output, nothing else there")


def print_json(answer: Any) -> None:
    """Print one JSON object."""
    sys.stdout.write(msgspec.json.format(msgspec.json.encode(answer), indent=2).decode() + "\n")


def print_table(headings: Iterable[str], rows: Iterable[Iterable[object]]) -> None:
    """Print rows in columns as wide as their widest entry; None is an empty cell."""
    table = [list(headings), *([("" if cell is None else str(cell)) for cell in row] for row in rows)]
    widths = [max(len(row[column]) for row in table) for column in range(len(table[0]))]
    for row in table:
        print("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip())
