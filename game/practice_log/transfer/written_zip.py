"""Entries and what is said of them into a zip. The same entries give the same bytes, by which a file is known again."""

import sqlite3
import zipfile
from collections.abc import Sequence
from typing import IO

import msgspec

from game.practice_log.documents.chosen_entries import ChosenEntry
from game.practice_log.documents.written_documents import document_lines
from game.practice_log.transfer.contents import CONTENTS, ENTRIES, Contents, ToldName

_WHEN = (1980, 1, 1, 0, 0, 0)
"""No time of writing makes a difference: the first that a zip can tell."""


def write_zip(
    file: IO[bytes], contents: Contents, connection: sqlite3.Connection, entries: Sequence[ChosenEntry]
) -> None:
    """Write the zip: first what it holds, so that a text editor shows it, then the entries."""
    told = msgspec.json.format(msgspec.json.encode(contents), indent=2)
    with zipfile.ZipFile(file, "w") as archive:
        archive.writestr(zipfile.ZipInfo(CONTENTS, _WHEN), told, zipfile.ZIP_STORED)
        info = zipfile.ZipInfo(ENTRIES, _WHEN)
        info.compress_type = zipfile.ZIP_DEFLATED
        with archive.open(info, "w", force_zip64=True) as member:
            whole = contents.told_name == ToldName.WHOLE.value
            for lines in document_lines(connection, entries, with_notes=contents.with_notes, with_names=whole):
                member.write(lines)
