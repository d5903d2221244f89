"""Whose a file in a teacher's folder is, told before it is read: by the first bytes of an export, else by the child
with limits.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError, reason_of
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.foreign.plain_files import refuse_no_plain_file
from game.practice_log.transfer.contents import CONTENTS
from game.practice_log.transfer.packed_player import said_by_export
from game.text.clean_text import cleaned

MOST_IDS = 8
"""By so many ids one person may be known, who has as many computers: whoever says more names others. Ours."""

_HEAD = msgspec.json.Decoder(DocumentsHead)
_ZIP, _SQLITE = b"PK", b"SQLite format 3\0"
_HOLDS_ZIP = re.compile(rb"PK\x01\x02.{42}[^\x00]{0,200}\.zip", re.DOTALL | re.IGNORECASE)
"""A file of such a name in the directory of a zip (PKWARE, APPNOTE 4.3.12)."""

_END_BYTES = 1_000_000
_LATEST = "9999"


@dataclass(frozen=True, slots=True)
class FileOwner:
    """By which ids a player is known in a file, the one it is under first; what they call themselves, and when it was
    exported: text that sorts by time, of a log the latest of all.
    """

    ids: tuple[UUID, ...]
    name: str
    exported_utc: str


def owner_of(path: Path) -> FileOwner:
    """Whose a file is. Raises `LogError` in one sentence for one that is none of ours or cannot be read."""
    if not refuse_no_plain_file(path):
        raise LogError("gather.empty_file", file=path.name)
    said = said_by_export(path)
    if said is not None:
        return _owner(path, [said.player.uuid], said.same_players, said.player.name, said.exported_utc)
    _refuse_another_kind(path)
    # The child is ended when nobody asks it any more.
    return owner_by_head(path, next(limited_lines(path, "documents"), b"").partition(b"\n")[0])


def owner_by_head(path: Path, line: bytes) -> FileOwner:
    """The same, by the first line that the child tells of a file. Raises `LogError`."""
    try:
        head = _HEAD.decode(line)
        exported = msgspec.json.decode(head.contents)
    except (msgspec.MsgspecError, ValueError, RecursionError) as error:
        raise LogError("export.damaged", file=path.name, reason=cleaned(str(error), 120)) from error
    if not head.players:
        raise LogError("report.nothing_judged", name=path.name)
    at = exported.get("exported_utc", "") if isinstance(exported, dict) else _LATEST
    return _owner(path, [player.uuid for player in head.players], head.same, head.players[0].name, str(at))


def _owner(path: Path, players: Iterable[str], same: Iterable[str], name: str, exported_utc: str) -> FileOwner:
    try:
        ids = tuple(dict.fromkeys(UUID(text) for text in (*players, *same)))
    except ValueError as error:
        raise LogError("export.damaged", file=path.name, reason=cleaned(str(error), 120)) from error
    if len(ids) > MOST_IDS:
        raise LogError("class.too_many_ids", file=path.name, limit=MOST_IDS)
    return FileOwner(ids, cleaned(name, 60), cleaned(exported_utc, 40))


def _refuse_another_kind(path: Path) -> None:
    """So that no child is started for each of thousands of files that have nothing to do with us."""
    try:
        with path.open("rb") as file:
            begin = file.read(len(_SQLITE))
            file.seek(max(0, path.stat().st_size - _END_BYTES))
            end = file.read(_END_BYTES)
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=path, reason=reason_of(error)) from error
    if begin == _SQLITE:
        return
    if begin.startswith(_ZIP) and _HOLDS_ZIP.search(end):
        raise LogError("gather.of_exports", file=path.name)
    if begin.startswith(_ZIP) and CONTENTS.encode() in end:
        return
    raise LogError("export.no_contents", file=path.name, contents=CONTENTS)
