"""How values stand in the database, and back."""

import json
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import fields
from datetime import UTC, datetime
from enum import Enum
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any, TypeVar, get_type_hints

from game.message import Message, from_plain, to_plain, verbatim

Record = TypeVar("Record")

_UTC_FORMAT = "%Y-%m-%dT%H:%M:%S.%fZ"
_US = 1_000_000
_FRACTION = re.compile(r"-?\d{1,12}(/[1-9]\d{0,11})?", re.ASCII)


def utc_text(at_utc: datetime) -> str:
    """ISO 8601 in UTC, always to the microsecond, so that order as text is order in time.

    Raises `ValueError` for a time that does not know its zone.
    """
    if at_utc.tzinfo is None:
        raise ValueError(f"a time in the log knows its zone: {at_utc} does not")
    return at_utc.astimezone(UTC).strftime(_UTC_FORMAT)


def utc_from(text: str) -> datetime:
    """The opposite of `utc_text`."""
    return datetime.fromisoformat(text)


def microseconds(seconds: float) -> int:
    """Seconds to whole microseconds."""
    return round(seconds * _US)


def seconds(at_us: int) -> float:
    """The opposite of `microseconds`."""
    return at_us / _US


def json_array(numbers: Any) -> str:
    """A row of things as JSON without spaces, which SQLite's `json_each` takes apart."""
    row = list(numbers)
    return json.dumps(row, separators=(",", ":")) if row else "[]"


def short_json_array(values: Sequence[Any]) -> str:
    """The same of what never changes, of whole numbers, words or tuples of such: short ones, which are few and come
    again and again, are remembered.
    """
    return _remembered_array(tuple(values)) if len(values) <= _SHORT else json_array(values)


_SHORT = 8
_remembered_array = lru_cache(maxsize=10_000)(json_array)


def from_json_array(text: str) -> list[Any]:
    """The opposite of `json_array`."""
    found: list[Any] = json.loads(text)
    return found


def messages_text(messages: Iterable[Message]) -> str:
    """Messages as JSON, for a column of text."""
    return json.dumps([to_plain(said) for said in messages], ensure_ascii=False, separators=(",", ":"))


def messages_from(text: str) -> tuple[Message, ...]:
    """The opposite of `messages_text`. Old logs hold finished English sentences, which never begin with a bracket and
    stand as they are; so does what only looks like JSON.
    """
    if not text.startswith("["):
        return (verbatim(text),) if text else ()
    try:
        return tuple(from_plain(plain) for plain in json.loads(text))
    except (ValueError, TypeError, RecursionError):
        return (verbatim(text),)


def fraction(text: str) -> Fraction:
    """A fraction as text, "7/2" or "-3". Raises `ValueError` for anything else: "1e999999999", which a log from
    elsewhere may hold, would keep the computer busy for years.
    """
    if not _FRACTION.fullmatch(text):
        raise ValueError(f"{text[:40]!r} is no fraction")
    return Fraction(text)


def columns_of(record: Any) -> dict[str, Any]:
    """The fields of a dataclass as columns of the same names."""
    return {field.name: _stored(getattr(record, field.name)) for field in fields(record)}


def record_from(kind: type[Record], row: Mapping[str, Any]) -> Record:
    """What `columns_of` was given, out of a row that has its columns and maybe others."""
    of_kind: Any = kind
    return kind(**{name: restored(row[name]) for name, restored in _restorers(of_kind).items()})


def _stored(value: Any) -> Any:
    if isinstance(value, Enum):
        return value.value
    return str(value) if isinstance(value, Fraction) else value


@cache
def _restorers(kind: type[Any]) -> dict[str, Callable[[Any], Any]]:
    """How each field comes back out of its column, by its type."""
    return {name: _restorer(told) for name, told in get_type_hints(kind).items()}


def _restorer(told: Any) -> Callable[[Any], Any]:
    if told is Fraction:
        return fraction
    if told is bool:
        return bool
    if told == bool | None:
        return truth
    return told if isinstance(told, type) and issubclass(told, Enum) else _as_it_is


def _as_it_is(value: Any) -> Any:
    return value


def truth(value: int | None) -> bool | None:
    """A truth value that may be unknown."""
    return None if value is None else bool(value)
