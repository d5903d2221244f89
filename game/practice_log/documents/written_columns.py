"""Rows of many takes or judgements out of a log, as the columns that documents have."""

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from itertools import groupby
from operator import itemgetter
from typing import Any, TypeVar

import msgspec

from game.practice_log.documents.chosen_entries import ChosenEntry, of_numbers

Column = tuple[Any, ...]
Columns = dict[int, list[Column]]
"""The rows of each take or judgement, by its number, as columns."""

Made = dict[tuple[str, int], msgspec.Struct]
"""Documents by the kind and row of their entries."""

_MOST_MINUTES = 1440
# A log of before may tell days that no zone explains.

Document = TypeVar("Document", bound=msgspec.Struct)

_NONSENSE = (ValueError, TypeError, KeyError, IndexError, OverflowError, RecursionError, msgspec.MsgspecError)


def columns_of_numbers(connection: sqlite3.Connection, select: str, order: str, numbers: Iterable[int]) -> Columns:
    """What a statement selects for each of these numbers, which stand first in its rows. `select` ends in the column
    of the numbers, `order` is how the rows of each are ordered.
    """
    rows = of_numbers(connection, select, numbers, order)
    return {number: list(zip(*of_one, strict=True))[1:] for number, of_one in groupby(rows, key=itemgetter(0))}


def in_struct(kind: type[Document], columns: list[Column] | None) -> Document | None:
    """Columns in the order of their names; None where there are no rows."""
    if columns is None:
        return None
    return kind(**{name: list(one) for name, one in zip(kind.__struct_fields__, columns, strict=True)})


def truths(column: Column) -> Column:
    """A column of 0 and 1 as truth values; what is NULL stays None."""
    return tuple(None if value is None else bool(value) for value in column)


def key_fields(entry: ChosenEntry) -> dict[str, Any]:
    """What every document says of its entry."""
    return {
        "form": 1,
        "device": entry.device,
        "device_name": entry.device_name,
        "sequence": entry.sequence,
        "at": entry.at_us,
        "zone": max(-_MOST_MINUTES, min(_MOST_MINUTES, entry.zone_minutes)),
        "player": entry.player,
    }


def made_of(
    entries: Iterable[ChosenEntry], make: Callable[[ChosenEntry], msgspec.Struct]
) -> Iterator[tuple[tuple[str, int], msgspec.Struct]]:
    """The document of each entry; what makes no sense, in a log from elsewhere, is left out."""
    for entry in entries:
        try:
            yield (entry.kind, entry.row), make(entry)
        except _NONSENSE:
            continue
