"""The kinds of values that a JSON file of ours can hold, as msgspec tells them: what fits, and how each is called."""

import json
import re
from collections.abc import Callable
from typing import Any, Final

import msgspec
from msgspec.inspect import (
    BoolType,
    EnumType,
    FloatType,
    IntType,
    NoneType,
    StrType,
    TupleType,
    Type,
    UnionType,
    VarTupleType,
)

from game.message import Message, message
from game.text.clean_text import cleaned

LONGEST_SHOWN = 40


def fits(kind: Type, value: object) -> bool:
    """Whether a value out of JSON is of a kind, within its bounds. Structs and tables are looked at field by field, and
    never fit as a whole.
    """
    test, _ = _KINDS.get(type(kind), _TABLE)
    return test(kind, value)


def expected_words(kind: Type) -> Message:
    """What a value of a kind is, in words."""
    _, words = _KINDS.get(type(kind), _TABLE)
    return words(kind)


def bounds_of(kind: IntType | FloatType) -> tuple[float, float]:
    """The lowest and the highest number allowed, both of them in."""
    lowest = -float("inf") if kind.ge is None else kind.ge
    highest = float("inf") if kind.le is None else kind.le
    return lowest, highest


def as_in_file(value: object) -> str:
    """A value as the file has it, on one short line."""
    try:
        text = json.dumps(value, ensure_ascii=False, default=msgspec.to_builtins)
    except RecursionError:
        text = "[[["
    return cleaned(text, LONGEST_SHOWN)


def _is_whole_number(kind: Any, value: object) -> bool:
    return isinstance(value, int) and _is_number(kind, value)


def _is_number(kind: Any, value: object) -> bool:
    lowest, highest = bounds_of(kind)
    return isinstance(value, int | float) and not isinstance(value, bool) and lowest <= value <= highest


def _is_word(kind: Any, value: object) -> bool:
    return isinstance(value, str) and value in [member.value for member in kind.cls]


def _is_text(kind: Any, value: object) -> bool:
    if not isinstance(value, str) or len(value) > (len(value) if kind.max_length is None else kind.max_length):
        return False
    return kind.pattern is None or re.search(kind.pattern, value) is not None


def _is_row(kinds: tuple[Type, ...], value: object) -> bool:
    return isinstance(value, list) and len(value) == len(kinds) and all(map(fits, kinds, value))


def _is_list(kind: Any, value: object) -> bool:
    if not isinstance(value, list) or len(value) < (kind.min_length or 0):
        return False
    short_enough = kind.max_length is None or len(value) <= kind.max_length
    return short_enough and all(fits(kind.item_type, item) for item in value)


def _number_words(key: str, kind: Any) -> Message:
    lowest, highest = (int(end) if end == int(end) else end for end in bounds_of(kind))
    return message(key, lowest=lowest, highest=highest)


def _list_words(kind: Any) -> Message:
    item = expected_words(kind.item_type)
    if kind.min_length:
        most = kind.min_length if kind.max_length is None else kind.max_length
        return message("player.expected_from_to", fewest=kind.min_length, most=most, item=item)
    return message("player.expected_list", item=item)


def _text_words(kind: Any) -> Message:
    if kind.pattern:
        return message("player.expected_pattern", pattern=kind.pattern.strip("^$"))
    return message("player.expected_text", longest=kind.max_length or 0)


def _union_words(kind: Any) -> Message:
    """Of our own: something, or null."""
    something = next(one for one in kind.types if not isinstance(one, NoneType))
    return message("player.expected_or_null", kind=expected_words(something))


_Kind = tuple[Callable[[Any, object], bool], Callable[[Any], Message]]
_TABLE: Final[_Kind] = (lambda _kind, _value: False, lambda _kind: message("player.expected_table"))
_KINDS: Final[dict[type[Type], _Kind]] = {
    BoolType: (
        lambda _kind, value: isinstance(value, bool),
        lambda _kind: message("player.expected_true_or_false"),
    ),
    IntType: (_is_whole_number, lambda kind: _number_words("player.expected_whole_number", kind)),
    FloatType: (_is_number, lambda kind: _number_words("player.expected_number", kind)),
    EnumType: (
        _is_word,
        lambda kind: message("player.expected_word", words=tuple(as_in_file(one.value) for one in kind.cls)),
    ),
    StrType: (_is_text, _text_words),
    TupleType: (
        lambda kind, value: _is_row(kind.item_types, value),
        lambda kind: message("player.expected_row", items=tuple(map(expected_words, kind.item_types))),
    ),
    VarTupleType: (_is_list, _list_words),
    UnionType: (lambda kind, value: value is None or any(fits(one, value) for one in kind.types), _union_words),
}
