"""Rows on their way from the child that reads a file to the program that takes them in: a line each, in JSON.

A `FileHead` comes first; then for each table a `TableHead` and its rows.
"""

from collections.abc import Iterable, Iterator, Sequence

import msgspec

RowValue = bool | int | float | str | None
Row = list[RowValue]
"""What a row of a table may hold."""


class FileHead(msgspec.Struct, frozen=True, kw_only=True, tag="file"):
    """The file: the migrations its tables went through, and the `contents.json` of an export. Of a damaged log, how
    many takes are gone, and how many are there in part.
    """

    migrations: list[str]
    contents: msgspec.Raw = msgspec.Raw(b"null")
    takes_lost: int = 0
    takes_in_part: int = 0


class TableHead(msgspec.Struct, frozen=True, kw_only=True, tag="table"):
    """The rows that follow are of this table and have these columns."""

    table: str
    columns: list[str]


RowLine = Row | FileHead | TableHead

_DECODER = msgspec.json.Decoder(RowLine)
_ENCODER = msgspec.json.Encoder()


def row_lines(items: Iterable[msgspec.Struct | Sequence[object]]) -> bytes:
    """Heads and rows as whole lines. Raises `OverflowError` and `TypeError` for values that no row of ours holds."""
    return _ENCODER.encode_lines(items)


def decoded_lines(blocks: Iterable[bytes]) -> Iterator[list[RowLine]]:
    """The lines of the child, many at a time. Raises `msgspec.MsgspecError` or `RecursionError` for what are none."""
    return map(_DECODER.decode_lines, blocks)
