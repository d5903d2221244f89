"""What was written of a student in a class, and names them: pages, tables, marks, assignments."""

import html
import re
import unicodedata
from collections.abc import Iterator
from dataclasses import replace
from glob import escape
from pathlib import Path

from game.assignments.assignment_reader import ENDING
from game.paths import without_links
from game.player.erasing import PlayerFiles
from game.player.written_pages import written_of
from game.practice_log.classes.class_folder import texts_in
from game.practice_log.school.school_address import without_password
from game.report.monday.set_next import file_name
from game.report.page_names import page_name

DEFAULT_INDEX = "index.html"
OURS = '<meta name="generator" content="Homefret'
"""In each page of ours (`content/report`)."""

_MOST_BYTES = 100_000
"""Of a text; assignments have some hundred."""


def with_pages(found: PlayerFiles) -> PlayerFiles:
    """The same with all that was written of them: their own pages, with the tables beside, and the pages that name
    them; and what names them too and is not ours to remove: assignments beside their files, copies of marks.
    """
    indexes = _class_pages(found)
    own = [file for index in indexes for uuid in sorted(found.paged) for file in _own_pages(index, page_name(uuid))]
    naming = [file for index in indexes for file in (index, *_copies_of(index)) if _names_them(file, found)]
    # Somebody may keep a book of marks of their own under such a name.
    theirs = [file for file in naming if file not in indexes and not _is_ours(file)]
    pages = tuple(dict.fromkeys(file for file in (*own, *naming) if file not in theirs))
    found = replace(found, pages=pages)
    return replace(found, texts=tuple(dict.fromkeys([*theirs, *_texts(found)])))


def _class_pages(found: PlayerFiles) -> tuple[Path, ...]:
    """The pages of all that were written of the class, and the one that is written where nobody says otherwise."""
    usual = [found.shared / DEFAULT_INDEX] if found.shared is not None and found.shared.is_dir() else []
    school = [without_password(found.school)] if found.school else []
    sources: list[Path | str] = [*filter(None, [found.shared]), *found.classes, *school]
    written = [Path(one.page) for source in sources for one in written_of(source) if one.page]
    return tuple(dict.fromkeys(without_links(path) for path in (*usual, *written)))


def _own_pages(index: Path, name: str) -> Iterator[Path]:
    page = index.with_name(name)
    yield from (path for ending in (page.suffix, ".csv") for path in _called_so(page.with_suffix(ending)))


def _copies_of(file: Path) -> Iterator[Path]:
    """The copies of a file that a cloud drive makes where two computers wrote it: "index (1).html",
    "index-DESKTOP.html", "index.sync-conflict-….html" (trade).
    """
    yield from (path for path in _called_so(file) if path != file)


def _called_so(file: Path) -> Iterator[Path]:
    """Files beside one whose names begin and end as its name does."""
    if file.parent.is_dir():
        yield from (path for path in sorted(file.parent.glob(f"{escape(file.stem)}*{file.suffix}")) if path.is_file())


def _names_them(file: Path, found: PlayerFiles) -> bool:
    """Whether a file that was written of the class tells an id of theirs, as marks do; or is a page of ours that leads
    to their page or calls them by a name.
    """
    text = _text(file)
    if any(str(uuid) in text for uuid in found.ids):
        return True
    called = [*(page_name(uuid) for uuid in found.paged), *(html.escape(name) for name in found.names)]
    return OURS in text and any(one in text for one in called)


def _is_ours(page: Path) -> bool:
    return OURS in _text(page)


def _text(file: Path) -> str:
    """What a file holds; empty for none and for what is no text."""
    try:
        return file.read_text(encoding="utf-8")
    except (OSError, ValueError):
        return ""


def _texts(found: PlayerFiles) -> Iterator[Path]:
    """The assignments in a folder, outside of what goes, that call them by a name, in their text or in their own name,
    as the line on Monday's page writes it.
    """
    if found.shared is None or not found.shared.is_dir():
        return
    names = [unicodedata.normalize("NFC", name).casefold() for name in found.names]
    called = [re.compile(rf"(?<!\w){re.escape(name)}(?!\w)") for name in names]
    files = {file_name(name).removesuffix(ENDING) for name in names}
    gone = set(found.files)
    for _, path in texts_in(found.shared, ENDING):
        try:
            with path.open("rb") as file:
                text = f"{path.name}\n{file.read(_MOST_BYTES).decode(errors='replace')}"
        except OSError:
            text = path.name
        told = unicodedata.normalize("NFC", text).casefold()
        if path not in gone and (path.name.partition(".")[0] in files or any(one.search(told) for one in called)):
            yield path
