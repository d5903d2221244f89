"""Who the files in a teacher's folder are of: each player with all their ids, names and files, before one is erased."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError
from game.practice_log.classes.class_folder import FoundFile, found_in
from game.practice_log.classes.file_owner import owner_of
from game.practice_log.foreign.documents_head import DocumentsHead
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.foreign.plain_files import is_packed
from game.text.clean_text import cleaned

_HEAD = msgspec.json.Decoder(DocumentsHead)
_LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class StudentFiles:
    """A player by all ids and names they have there: the `own` files in which nobody else is, and those that are
    `shared` with others, logs into which several played.
    """

    ids: frozenset[UUID]
    names: frozenset[str]
    own: tuple[Path, ...] = ()
    shared: tuple[Path, ...] = ()


@dataclass(frozen=True, slots=True)
class FilesByStudent:
    """All players whose files lie in a folder, and the files of which nobody can tell whose they are."""

    students: tuple[StudentFiles, ...]
    unknown: tuple[Path, ...]


def students_in_folder(folder: Path, passed_over: Path) -> FilesByStudent:
    """Who the files in a folder and those below are of; `passed_over` is the file of the class. Two files of which each
    says one id in common are of one player. Of each player, the files that tell of most ids stand last. Raises
    `LogError` for a folder that cannot be read.
    """
    said: list[StudentFiles] = []
    unknown: list[Path] = []
    for file in found_in(folder, passed_over).files:
        try:
            said += _players_in(file)
        except (LogError, ValueError, msgspec.MsgspecError, RecursionError):
            unknown.append(file.path)
    ids_told = {path: len(one.ids) for one in said for path in one.own}
    students = (replace(one, own=tuple(sorted(one.own, key=ids_told.__getitem__))) for one in joined(said))
    return FilesByStudent(tuple(students), tuple(unknown))


def joined(said: Iterable[StudentFiles]) -> list[StudentFiles]:
    """Players of whom an id is the same, as one."""
    students: list[StudentFiles] = []
    for one in said:
        same = [other for other in students if other.ids & one.ids]
        students = [other for other in students if not other.ids & one.ids]
        parts = [*same, one]
        students.append(
            StudentFiles(
                ids=frozenset().union(*(part.ids for part in parts)),
                names=frozenset().union(*(part.names for part in parts)),
                own=tuple(path for part in parts for path in part.own),
                shared=tuple(path for part in parts for path in part.shared),
            )
        )
    return students


def _players_in(file: FoundFile) -> Iterator[StudentFiles]:
    path = file.path
    if is_packed(path):
        owner = owner_of(path)
        yield StudentFiles(frozenset(owner.ids), _names(owner.name), own=(path,))
        return
    # The child is ended when nobody asks it any more.
    head = _HEAD.decode(next(limited_lines(path, "documents"), b"").partition(b"\n")[0])
    if len(head.players) == 1:
        ids = frozenset(map(UUID, (head.players[0].uuid, *head.same)))
        yield StudentFiles(ids, _names(head.players[0].name), own=(path,))
        return
    for player in head.players:
        yield StudentFiles(frozenset({UUID(player.uuid)}), _names(player.name), shared=(path,))


def _names(name: str) -> frozenset[str]:
    return frozenset({cleaned(name, _LONGEST_NAME)} - {""})
