"""Holds what a JSON file says against the struct it is meant for, and finds every fault at once.

A number out of bounds becomes the nearest allowed, and what is of another kind the default of its field; entries of a
list or table that cannot be are left out. All else is used as it stands. Bounds are msgspec's `Meta`, both ends in.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from msgspec import NODEFAULT
from msgspec.inspect import (
    DataclassType,
    DictType,
    Field,
    FloatType,
    IntType,
    StructType,
    Type,
    VarTupleType,
)

from game.message import message
from game.player.file_faults import LEFT_OUT, MOST_TOLD_OF_A_TABLE, AnyFault, At, Fault, MoreFaults
from game.player.value_kinds import bounds_of, expected_words, fits

# No number of ours has more digits than this.
_MOST_DIGITS = 18


@dataclass(frozen=True, slots=True)
class Checks:
    """The `faults` found so far."""

    faults: list[AnyFault] = field(default_factory=list)

    def struct(self, kind: StructType | DataclassType, given: dict[str, Any], at: At = ()) -> Any:
        """The usable fields of a table that a struct is to be made of; `LEFT_OUT` where one that must be there is not.
        Fields that the struct does not know are passed over.
        """
        usable = {}
        for one in kind.fields:
            value = LEFT_OUT
            if one.name in given or one.required:
                value = self._value(one.type, given.get(one.name), (*at, one.name), _default(one))
            if value is not LEFT_OUT:
                usable[one.name] = value
            elif one.required:
                return LEFT_OUT
        return usable

    def _value(self, kind: Type, given: Any, at: At, default: Any = LEFT_OUT) -> Any:
        """What is used of a value. `LEFT_OUT` where that is nothing: then its fault is found, and its default holds."""
        if isinstance(kind, IntType | FloatType) and _is_number(given):
            return self._number(kind, given, at)
        if isinstance(kind, StructType | DataclassType) and isinstance(given, dict):
            return self.struct(kind, given, at)
        if isinstance(kind, DictType) and isinstance(given, dict):
            return self._table(kind, given, at)
        if isinstance(kind, VarTupleType) and isinstance(given, list) and not kind.min_length:
            return self._list(kind, given, at)
        if fits(kind, given):
            return given
        self.faults.append(Fault(at, given, kind, default))
        return LEFT_OUT

    def _number(self, kind: IntType | FloatType, given: float, at: At) -> float:
        """The nearest number that is allowed."""
        lowest, highest = bounds_of(kind)
        nearest = min(highest, max(lowest, given))
        if isinstance(kind, IntType):
            nearest = round(nearest)
        if nearest != given:
            self.faults.append(Fault(at, given, kind, nearest))
        return nearest

    def _list(self, kind: VarTupleType, given: list[Any], at: At) -> list[Any]:
        """The items that can be."""
        checked = [_entry(kind.item_type, item, (*at, str(number))) for number, item in enumerate(given, start=1)]
        self._tell_first((faults for _, faults in checked), at)
        usable = [item for item, _ in checked if item is not LEFT_OUT]
        return usable[: self._most(kind, len(usable), at)]

    def _table(self, kind: DictType, given: dict[str, Any], at: At) -> dict[Any, Any]:
        """The entries that can be."""
        usable: dict[Any, Any] = {}
        faults: list[list[AnyFault]] = []
        names = message("player.expected_names", name=expected_words(kind.key_type))
        for name, value in given.items():
            key, entry = _key(kind.key_type, name), LEFT_OUT
            wrong: list[AnyFault] = [Fault(at, name, names)]
            if key is not LEFT_OUT:
                entry, wrong = _entry(kind.value_type, value, (*at, name))
            if entry is not LEFT_OUT:
                usable[key] = entry
            faults.append(wrong)
        self._tell_first(faults, at)
        return dict(list(usable.items())[: self._most(kind, len(usable), at)])

    def _tell_first(self, entries: Iterable[list[AnyFault]], at: At) -> None:
        """The faults of the first faulty entries, and how many more of these there are."""
        faulty = [faults for faults in entries if faults]
        for faults in faulty[:MOST_TOLD_OF_A_TABLE]:
            self.faults.extend(faults)
        if len(faulty) > MOST_TOLD_OF_A_TABLE:
            self.faults.append(MoreFaults(at, len(faulty) - MOST_TOLD_OF_A_TABLE))

    def _most(self, kind: VarTupleType | DictType, entries: int, at: At) -> int:
        """How many entries are used."""
        if kind.max_length is None or entries <= kind.max_length:
            return entries
        self.faults.append(
            Fault(at, entries, message("player.expected_entries", most=kind.max_length), kind.max_length)
        )
        return kind.max_length


def _entry(kind: Type, given: Any, at: At) -> tuple[Any, list[AnyFault]]:
    """What is used of an entry of a list or table, and its faults. The nearest number would be another entry: only in
    the fields of a struct is anything put right.
    """
    if isinstance(kind, StructType | DataclassType) and isinstance(given, dict):
        checks = Checks()
        return checks.struct(kind, given, at), checks.faults
    return (given, []) if fits(kind, given) else (LEFT_OUT, [Fault(at, given, kind)])


def _key(kind: Type, name: str) -> Any:
    """The key that a name in a file stands for: a whole number is written in one way only."""
    if not isinstance(kind, IntType):
        return name if fits(kind, name) else LEFT_OUT
    if not (name.isascii() and name.isdigit() and len(name) <= _MOST_DIGITS and str(int(name)) == name):
        return LEFT_OUT
    return int(name) if fits(kind, int(name)) else LEFT_OUT


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and not math.isnan(value)


def _default(one: Field) -> Any:
    if one.required:
        return LEFT_OUT
    return one.default_factory() if one.default is NODEFAULT else one.default
