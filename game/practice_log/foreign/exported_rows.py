"""The rows of an export, many at a time: JSON lines are decoded by the block, which is what makes a report of years of
practice quick to begin.
"""

import json
import zipfile
from collections.abc import Iterator, Sequence
from contextlib import closing
from functools import lru_cache
from typing import IO

import msgspec

from game.text.clean_text import LONGEST, cleaned

MAX_LINE_BYTES = 4_000_000
_BLOCK_BYTES = 1_000_000

Row = list[bool | int | float | str | None]
"""What a row of a table may hold."""

_ROWS = msgspec.json.Decoder(Row)
_cleaned = lru_cache(maxsize=10_000)(cleaned)


def exported_rows(archive: zipfile.ZipFile, table: str, shown: Sequence[int]) -> Iterator[list[Row]]:
    """The rows of a table, some thousands at a time; text that people will see, in the columns `shown`, made clean.

    Raises `ValueError`, `TypeError` or `RecursionError` for what are no rows.
    """
    with closing(archive.open(f"{table}.jsonl")) as member:
        for lines in _blocks(member):
            rows = _decoded(lines)
            for row in rows if shown else ():
                for index in shown:
                    row[index] = _shown_text(row[index])
            yield rows


def _blocks(member: IO[bytes]) -> Iterator[bytes]:
    """The lines of a member, whole ones, many at a time."""
    left = b""
    while block := member.read(_BLOCK_BYTES):
        lines = left + block
        first = lines.find(b"\n")
        if (len(lines) if first < 0 else first) > MAX_LINE_BYTES:
            json.loads(lines[:MAX_LINE_BYTES])  # says where it is cut off, where that can be told
            raise ValueError("a line without end")
        end = lines.rfind(b"\n") + 1
        left = lines[end:]
        yield lines[:end]
    yield left


def _decoded(lines: bytes) -> list[Row]:
    try:
        rows = _ROWS.decode_lines(lines)
    except (msgspec.MsgspecError, ValueError, RecursionError):
        return _one_by_one(lines)
    # Two rows on a line, or a line without one, are no rows of ours.
    return rows if len(rows) == len(_lines(lines)) else _one_by_one(lines)


def _one_by_one(lines: bytes) -> list[Row]:
    """What is not as we write it, line by line: numbers of more than 64 bits, or without end, are values all the same;
    for the rest the error says what is wrong.
    """
    rows = [json.loads(line) for line in _lines(lines)]
    if not all(isinstance(row, list) for row in rows):
        raise TypeError("a row that is none")
    return rows


def _lines(lines: bytes) -> list[bytes]:
    *whole, last = lines.split(b"\n")
    return [*whole, last] if last else whole


def _shown_text(value: object) -> str:
    """Text as people will see it. Titles and bars come again and again: short ones are remembered."""
    text = str(value)
    return _cleaned(text) if len(text) <= LONGEST else cleaned(text)
