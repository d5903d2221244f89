"""Rows on their way from the child that reads a file to the program that takes them in: a line each, in JSON.

A `FileHead` comes first; then for each table a `TableHead` and its rows, and a `LostRows` where some could not be read.
"""

from collections.abc import Iterable, Iterator, Sequence

import msgspec

RowValue = bool | int | float | str | None
Row = list[RowValue]
"""What a row of a table may hold."""


class FileHead(msgspec.Struct, frozen=True, kw_only=True, tag="file"):
    """The file: the migrations its tables went through, and the `contents.json` of an export."""

    migrations: list[str]
    contents: msgspec.Raw = msgspec.Raw(b"null")


class TableHead(msgspec.Struct, frozen=True, kw_only=True, tag="table"):
    """The rows that follow are of this table and have these columns."""

    table: str
    columns: list[str]


class LostRows(msgspec.Struct, frozen=True, kw_only=True, tag="lost"):
    """Something of a table could not be read: so many places, of one row or many, whose keys lie between these."""

    table: str
    after: list[RowValue]
    before: list[RowValue]


RowLine = Row | FileHead | TableHead | LostRows

_DECODER = msgspec.json.Decoder(RowLine)
_ENCODER = msgspec.json.Encoder()


def row_lines(items: Iterable[msgspec.Struct | Sequence[object]]) -> bytes:
    """Heads and rows as whole lines. Raises `OverflowError` and `TypeError` for values that no row of ours holds."""
    return _ENCODER.encode_lines(items)


def decoded_lines(blocks: Iterable[bytes]) -> Iterator[list[RowLine]]:
    """The lines of the child, many at a time. Raises `msgspec.MsgspecError` or `RecursionError` for what are none."""
    return map(_DECODER.decode_lines, blocks)
