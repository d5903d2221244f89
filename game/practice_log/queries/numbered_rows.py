"""Rows of several things, sorted by the number of the thing, given out thing by thing."""

from collections.abc import Iterator
from itertools import groupby
from operator import itemgetter
from typing import Any


class NumberedRows:
    """Rows in the order of the number that comes first in them, given out number by number."""

    def __init__(self, rows: Iterator[tuple[Any, ...]]) -> None:
        self._groups = groupby(rows, key=itemgetter(0))
        self._next = next(self._groups, None)

    def of(self, number: int) -> tuple[tuple[Any, ...], ...]:
        """The rows of a number, which is above all that were asked for before; each that has rows is asked for."""
        if self._next is None or self._next[0] != number:
            return ()
        found = tuple(self._next[1])
        self._next = next(self._groups, None)
        return found
