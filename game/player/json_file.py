"""A JSON file of a person's, read with care and written so that nothing of it is lost.

What a newer version wrote into it and this one does not know is kept: it is taken over from the file that is there.
"""

import json
from collections.abc import Mapping
from itertools import zip_longest
from pathlib import Path
from typing import Any

from msgspec.inspect import DataclassType, DictType, StructType, Type, VarTupleType

from game.errors import HomefretError

# Ours are some kilobytes long. What is far longer was never written by us, and takes seconds to read.
MOST_BYTES = 5_000_000
_MOST_LEVELS = 20
# What Python makes an int of at once; a float does for more (and infinity for much more).
_MOST_DIGITS = 300


class JsonFileError(HomefretError):
    """A file that holds no table in JSON. The message is the reason."""


def read_table(path: Path) -> dict[str, Any]:
    """The table that a file holds. NaN and infinite numbers are read, though JSON has none. Raises `OSError` where
    there is no file that can be read, `JsonFileError` for one that is too long or no table.
    """
    if path.exists() and not path.is_file():
        # A pipe, say, might never end.
        raise JsonFileError("player.no_file")
    with path.open("rb") as file:
        raw = file.read(MOST_BYTES + 1)
    if len(raw) > MOST_BYTES:
        raise JsonFileError("player.file_too_long", most_mb=MOST_BYTES // 1_000_000)
    try:
        table = json.loads(raw.decode("utf-8-sig"), parse_int=_whole_number)
    except json.JSONDecodeError as error:
        raise JsonFileError("player.file_is_no_json", line=error.lineno, column=error.colno) from error
    except UnicodeDecodeError as error:
        raise JsonFileError("player.file_is_no_text") from error
    except RecursionError as error:
        raise JsonFileError("player.file_nests_too_deep") from error
    if not isinstance(table, dict):
        raise JsonFileError("player.file_is_no_table")
    return table


def _whole_number(digits: str) -> float:
    return int(digits) if len(digits) <= _MOST_DIGITS else float(digits)


def write_table(table: Mapping[str, Any], path: Path) -> None:
    """Write a table so that a crash leaves the old file or the new one, never half of one. Raises `OSError`."""
    draft = path.with_suffix(".new")
    text = json.dumps(table, ensure_ascii=False, indent=2) + "\n"
    # The escape that stands for half a character outside of JSON as well is the one of JSON.
    draft.write_bytes(text.encode("utf-8", "backslashreplace"))
    draft.replace(path)


def with_unknown(table: Mapping[str, Any], old: Mapping[str, Any], kind: StructType | DataclassType) -> dict[str, Any]:
    """A struct's table, and what stood beside its fields in the `old` one, in the structs inside it too."""
    kinds = {one.name: one.type for one in kind.fields}
    merged = {name: _merged(kinds[name], value, old.get(name)) for name, value in table.items()}
    return merged | {name: value for name, value in old.items() if name not in kinds and _can_be_written(value)}


def _merged(kind: Type, value: Any, old: Any) -> Any:
    if isinstance(kind, VarTupleType) and isinstance(old, list):
        # Lists of ours only ever grow at their end.
        return [_merged(kind.item_type, item, before) for item, before in zip_longest(value, old[: len(value)])]
    if not isinstance(old, dict):
        return value
    if isinstance(kind, StructType | DataclassType):
        return with_unknown(value, old, kind)
    if isinstance(kind, DictType):
        return {name: _merged(kind.value_type, entry, old.get(name)) for name, entry in value.items()}
    return value


def _can_be_written(value: Any) -> bool:
    """Whether JSON can say it, at no greater depth than a file of ours may ever have."""
    return _levels_within(value, _MOST_LEVELS) and _is_json(value)


def _is_json(value: Any) -> bool:
    try:
        json.dumps(value, allow_nan=False)
    except ValueError:
        return False
    return True


def _levels_within(value: Any, levels: int) -> bool:
    if not isinstance(value, dict | list):
        return True
    inside = value.values() if isinstance(value, dict) else value
    return levels > 0 and all(_levels_within(one, levels - 1) for one in inside)
