"""The table that a text in TOML holds, from whoever it comes."""

import tomllib
from typing import Any, Final

_MOST_DOTS: Final = 300
"""In one line. Keys with dots are tables within tables, over which the library's reader takes the square of the time;
text that long is cut in any case.
"""


def table_in(text: str) -> dict[str, Any]:
    """The table. Raises `ValueError`, which says where, for a text that is no TOML or nests too deep."""
    for number, line in enumerate(text.split("\n"), start=1):
        if line.count(".") > _MOST_DOTS:
            raise ValueError(f"too many dots (at line {number})")
    try:
        return tomllib.loads(text)
    except RecursionError as error:
        raise ValueError("too many tables within tables") from error
