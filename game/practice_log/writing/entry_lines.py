"""What could not be written into the log, as lines of JSON, and back.

Every object stands with the name of its class; only classes that an entry can hold, by its own type hints, are ever
made again. Times, fractions, ids and choices stand as text.
"""

import json
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from enum import Enum
from fractions import Fraction
from functools import cache
from typing import Any, get_args, get_type_hints
from uuid import UUID

from game.practice_log.writing import entries
from game.practice_log.writing.entries import Entry

_CLASS = "is"
_TEXTS: dict[type, tuple[Callable[[Any], str], Callable[[str], Any]]] = {
    datetime: (datetime.isoformat, datetime.fromisoformat),
    date: (date.isoformat, date.fromisoformat),
    Fraction: (str, Fraction),
    UUID: (str, UUID),
}
"""How what JSON does not know stands as text, and back."""

_FROM_TEXT: Mapping[str, Callable[[str], Any]] = {"float": float} | {
    kind.__name__: from_text for kind, (_, from_text) in _TEXTS.items()
}


def entry_line(entry: Entry) -> str:
    """An entry as one line, without its end. Raises `TypeError` for what no entry of ours holds."""
    return json.dumps(_plain(entry), ensure_ascii=True, allow_nan=False)


def entry_of(line: str) -> Entry:
    """The entry of a line. Raises `ValueError`, `TypeError`, `KeyError` or `RecursionError` for a line that is none."""
    entry: Entry = _made(json.loads(line))
    if type(entry) not in _entry_classes():
        raise ValueError("no entry")
    return entry


def _plain(value: Any) -> Any:
    if value is None or (isinstance(value, bool | str | int) and not isinstance(value, Enum)):
        return value
    if isinstance(value, float):
        return value if math.isfinite(value) else {_CLASS: "float", "text": repr(value)}
    if isinstance(value, Enum):
        return {_CLASS: _known(type(value)).__name__, "name": value.name}
    if is_dataclass(value):
        cls = _known(type(value))
        return {_CLASS: cls.__name__} | {one.name: _plain(getattr(value, one.name)) for one in fields(cls) if one.init}
    if isinstance(value, tuple | list):
        return [_plain(item) for item in value]
    return _plain_of_another_kind(value)


def _plain_of_another_kind(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {_CLASS: "Mapping", "of": [[_plain(key), _plain(item)] for key, item in value.items()]}
    if isinstance(value, frozenset):
        return {_CLASS: "frozenset", "of": [_plain(item) for item in value]}
    for kind, (to_text, _) in _TEXTS.items():
        if isinstance(value, kind):
            return {_CLASS: kind.__name__, "text": to_text(value)}
    raise TypeError(f"no entry holds a {type(value).__name__}")


def _made(plain: Any) -> Any:
    if isinstance(plain, list):
        return tuple(_made(item) for item in plain)
    if not isinstance(plain, dict):
        return plain
    name = plain.pop(_CLASS)
    if name == "Mapping":
        return {_made(key): _made(item) for key, item in plain["of"]}
    if name == "frozenset":
        return frozenset(_made(item) for item in plain["of"])
    from_text = _FROM_TEXT.get(name)
    return from_text(plain["text"]) if from_text else _made_of_class(_classes()[name], plain)


def _made_of_class(cls: type, plain: Mapping[str, Any]) -> Any:
    if issubclass(cls, Enum):
        return cls[plain["name"]]
    return cls(**{field: _made(value) for field, value in plain.items()})


def _known(cls: type) -> type:
    """The class that an entry may hold: the object's own, or the one that it is a kind of."""
    known = next((base for base in cls.__mro__ if _classes().get(base.__name__) is base), None)
    if known is None:
        raise TypeError(f"no entry holds a {cls.__name__}")
    return known


@cache
def _entry_classes() -> frozenset[type]:
    own = (cls for cls in vars(entries).values() if isinstance(cls, type) and cls.__module__ == entries.__name__)
    return frozenset(cls for cls in own if is_dataclass(cls))


@cache
def _classes() -> Mapping[str, type]:
    """Every class of ours that an entry may hold, by its name."""
    found: dict[str, type] = {}
    _look_into(_entry_classes(), found)
    return found


def _look_into(hints: Iterable[Any], found: dict[str, type]) -> None:
    for hint in hints:
        _look_into(get_args(hint), found)
        if isinstance(hint, type) and (is_dataclass(hint) or issubclass(hint, Enum)) and hint.__name__ not in found:
            found[hint.__name__] = hint
            if is_dataclass(hint):
                _look_into(get_type_hints(hint).values(), found)
