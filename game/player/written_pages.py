"""Where pages of a class were written, so that a student who is erased goes from there too.

A small file of the program's own, `pages.json` beside the gathered classes, holds no name of anybody: the folder or
file of each class, the file it was gathered into, and the page of all that was written of it.
"""

from pathlib import Path

import msgspec

from game.errors import LogError, reason_of
from game.paths import user_data, without_links
from game.player.class_place import CLASSES
from game.player.json_file import JsonFileError, read_table, write_table
from game.practice_log.database.permissions import make_private

_FILE = "pages.json"
_MOST = 1000
"""Of more, those that were written longest ago are forgotten (ours: a page a week of thirty classes, for most of a
year, where each has a name of its own).
"""


class WrittenPage(msgspec.Struct, frozen=True):
    """Where something of a class went: of the folder, file or school `source`, gathered into the file `place`; `page`
    is the page of all, empty where none was written. All of them as they are found from anywhere.
    """

    source: str
    place: str
    page: str = ""


class _Kept(msgspec.Struct, frozen=True):
    pages: list[WrittenPage] = []


def remember_page(source: Path | str, place: Path | str, page: Path | None = None) -> None:
    """Remember what was written; of a school, its address without a password is both source and place. Raises
    `LogError` where that cannot be kept.
    """
    now = WrittenPage(_told(source), _told(place), "" if page is None else _told(page))
    before = remembered_pages()
    if now in before:
        return
    path = user_data() / CLASSES / _FILE
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        make_private(path.with_suffix(".new"))
        write_table(msgspec.to_builtins(_Kept([*before, now][-_MOST:])), path)
    except OSError as error:
        raise LogError("class.cannot_be_written", file=path, reason=reason_of(error)) from error


def remembered_pages() -> tuple[WrittenPage, ...]:
    """All that is remembered; nothing where the file makes no sense."""
    try:
        return tuple(msgspec.convert(read_table(user_data() / CLASSES / _FILE), type=_Kept).pages)
    except (OSError, JsonFileError, msgspec.ValidationError):
        return ()


def written_of(source: Path | str) -> tuple[WrittenPage, ...]:
    """What was written of a class, by its folder, by the file it was gathered into, or by the address of a school."""
    told = _told(source)
    return tuple(page for page in remembered_pages() if told in (page.source, page.place))


def _told(place: Path | str) -> str:
    return place if isinstance(place, str) else str(without_links(place))
