"""What is kept in mind of each gathered class, in a small file beside the classes: for how many months it keeps what it
holds, and which list names its students, as their teacher said last. It holds no name of anybody.
"""

from pathlib import Path
from typing import Annotated, TypeVar

import msgspec
from msgspec import Meta

from game.errors import LogError, reason_of
from game.paths import user_data, without_links
from game.player.class_place import CLASSES
from game.player.json_file import JsonFileError, read_table, write_table
from game.practice_log.database.permissions import make_private

_FILE = "kept.json"
MOST_MONTHS = 600

Said = TypeVar("Said", int, str)
"""What is said of a class."""


class _Kept(msgspec.Struct, frozen=True):
    """By the file of each class: months, none where all of it is kept; the list of its students, none where they stand
    by their own names.
    """

    months: dict[str, Annotated[int, Meta(ge=1, le=MOST_MONTHS)]] = {}
    lists: dict[str, str] = {}


def kept_months(place: Path) -> int | None:
    """For how many months the class in a file keeps what it holds; None for ever."""
    return _read().months.get(_name(place))


def keep_months(place: Path, months: int | None) -> None:
    """Keep what is in the class in a file so many months from now on. Raises `LogError` where that cannot be kept."""
    kept = _read()
    _write(msgspec.structs.replace(kept, months=_with(kept.months, place, months)))


def kept_list(place: Path) -> Path | None:
    """The list that names the students of the class in a file; None where there is none."""
    told = _read().lists.get(_name(place))
    return None if told is None else Path(told)


def keep_list(place: Path, names: Path | None) -> None:
    """Name the students of the class in a file by this list from now on. Raises `LogError` where that cannot be
    kept.
    """
    kept = _read()
    # A link to this year's list is followed anew each time.
    lists = _with(kept.lists, place, None if names is None else str(names.absolute()))
    if lists != kept.lists:
        _write(msgspec.structs.replace(kept, lists=lists))


def _with(told: dict[str, Said], place: Path, said: Said | None) -> dict[str, Said]:
    others = {name: one for name, one in told.items() if name != _name(place)}
    return others if said is None else others | {_name(place): said}


def _name(place: Path) -> str:
    return str(without_links(place))


def _read() -> _Kept:
    try:
        return msgspec.convert(read_table(user_data() / CLASSES / _FILE), type=_Kept)
    except (OSError, JsonFileError, msgspec.ValidationError):
        return _Kept()


def _write(kept: _Kept) -> None:
    path = user_data() / CLASSES / _FILE
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        make_private(path.with_suffix(".new"))
        write_table(msgspec.to_builtins(kept), path)
    except OSError as error:
        raise LogError("class.cannot_be_written", file=path, reason=reason_of(error)) from error
