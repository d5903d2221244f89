"""The files of one student as one log of our own that nobody else sees."""

import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from itertools import chain
from pathlib import Path
from uuid import UUID

import msgspec

from game.errors import LogError
from game.message import Message, message
from game.practice_log.classes.file_owner import FileOwner, owner_by_head
from game.practice_log.database.identity import Identity
from game.practice_log.database.migrations import MIGRATIONS
from game.practice_log.documents.decoded_documents import decoded_documents
from game.practice_log.documents.document_batch import TakenIn
from game.practice_log.documents.take_in import TakingIn
from game.practice_log.foreign.filling import log_of_lines
from game.practice_log.foreign.limited_reading import limited_lines
from game.practice_log.foreign.row_lines import FileHead
from game.practice_log.rows.shared_rows import put_player
from game.text.clean_text import cleaned

_PAGES_IN_MEMORY_KB = 20_000
"""More makes it no quicker."""

_SENSELESS = (ValueError, TypeError, OverflowError, RecursionError, msgspec.MsgspecError)


@dataclass(slots=True)
class StudentLog:
    """A log made of files; what came of each, and why others could not be read."""

    connection: sqlite3.Connection
    came: dict[Path, TakenIn] = field(default_factory=dict)
    refused: dict[Path, Message] = field(default_factory=dict)


@contextmanager
def student_log(student: UUID, files: Sequence[tuple[Path, FileOwner]]) -> Iterator[StudentLog]:
    """The log of these files, read in their order, until the end of the `with`. Without what was played: only how notes
    were judged, and what answered them. A file that breaks off in the middle leaves nothing.
    """
    refused: dict[Path, Message] = {}
    while True:
        log = StudentLog(_empty(), refused=refused)
        try:
            if _all_read(log, student, [file for file in files if file[0] not in refused]):
                yield log
                return
        finally:
            log.connection.close()


def _all_read(log: StudentLog, student: UUID, files: Sequence[tuple[Path, FileOwner]]) -> bool:
    """Whether all could be read: else one more is refused, and it is to be begun again."""
    ids = {str(uuid) for _, owner in files for uuid in owner.ids}
    name = next((owner.name for _, owner in files if owner.name), "")
    taking = TakingIn(
        log.connection,
        player=put_player(log.connection, Identity(uuid=student, name=name)),
        accepted=ids,
        with_notes=False,
    )
    for path, owner in files:
        try:
            log.came[path] = _came_of(path, owner, taking)
        except LogError as fault:
            log.refused[path] = fault.message
            return False
    taking.try_again()
    return True


def _came_of(path: Path, owner: FileOwner, taking: TakingIn) -> TakenIn:
    lines = limited_lines(path, "documents")
    first, _, rest = next(lines, b"").partition(b"\n")
    if set(owner_by_head(path, first).ids) != set(owner.ids):
        # What its first bytes say is another's.
        raise LogError("gather.not_whole", file=path.name)
    came = TakenIn()
    try:
        for documents in decoded_documents(chain([rest], lines)):
            came.add(taking.take_in(documents))
    except _SENSELESS as error:
        reason = cleaned(str(error) or type(error).__name__, 120)
        raise LogError("export.damaged", file=path.name, reason=reason) from error
    return came


def told_of(path: Path, came: TakenIn) -> list[Message]:
    """What is to be said of a file that was read."""
    counts = (("left_out", came.left_out), ("others", came.others), ("clashes", came.clashes))
    return [message(f"gather.{key}", file=path.name, count=count) for key, count in counts if count]


def _empty() -> sqlite3.Connection:
    head = FileHead(migrations=[step.name for step in MIGRATIONS])
    connection, _ = log_of_lines([[head]], now_utc=datetime.now(UTC))
    # All numbers that stand in the rows are our own: looking each of them up again takes a tenth of the time.
    connection.execute("PRAGMA foreign_keys = OFF")
    connection.execute(f"PRAGMA cache_size = -{_PAGES_IN_MEMORY_KB}")
    return connection
