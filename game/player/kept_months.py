"""For how many months a gathered class keeps what it holds, as its teacher said last: in a small file beside the
classes.
"""

from pathlib import Path
from typing import Annotated

import msgspec
from msgspec import Meta

from game.errors import LogError
from game.paths import user_data, without_links
from game.player.class_place import CLASSES
from game.player.json_file import JsonFileError, read_table, write_table
from game.practice_log.database.permissions import make_private

_FILE = "kept.json"
MOST_MONTHS = 600


class _Kept(msgspec.Struct, frozen=True):
    """Months by the file of each class; none where all of it is kept."""

    months: dict[str, Annotated[int, Meta(ge=1, le=MOST_MONTHS)]] = {}


def kept_months(place: Path) -> int | None:
    """For how many months the class in a file keeps what it holds; None for ever."""
    return _read().get(str(without_links(place)))


def keep_months(place: Path, months: int | None) -> None:
    """Keep what is in the class in a file so many months from now on. Raises `LogError` where that cannot be kept."""
    told = {name: said for name, said in _read().items() if name != str(without_links(place))}
    kept = _Kept(told if months is None else told | {str(without_links(place)): months})
    path = user_data() / CLASSES / _FILE
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        make_private(path.with_suffix(".new"))
        write_table(msgspec.to_builtins(kept), path)
    except OSError as error:
        raise LogError("class.cannot_be_written", file=path, reason=error.strerror or error) from error


def _read() -> dict[str, int]:
    try:
        return msgspec.convert(read_table(user_data() / CLASSES / _FILE), type=_Kept).months
    except (OSError, JsonFileError, msgspec.ValidationError):
        return {}
