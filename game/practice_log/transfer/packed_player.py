"""Whose export a file is: told by its first bytes, in which its `contents.json` stands unpacked.

Of a file from elsewhere no more is read than that, and nothing of it is unpacked or run.
"""

import stat
import struct
from pathlib import Path
from typing import Annotated

import msgspec

from game.practice_log.transfer.contents import CONTENTS, FORMAT, Whose

_LOCAL_HEADER = struct.Struct("<4s5H3L2H")
"""What stands before a member (.ZIP File Format Specification 6.3, 4.3.7): signature, version, flags, method, time,
date, CRC, packed and plain size, and the lengths of its name and of what else is said of it.
"""

_SIGNATURE, _STORED = b"PK\x03\x04", 0
_MOST_BYTES = 1_000_000


class SaidByExport(msgspec.Struct, frozen=True):
    """Of the contents, what is asked here."""

    format: str
    player: Whose
    same_players: Annotated[list[str], msgspec.Meta(max_length=1000)] = []
    exported_utc: str = ""


def said_by_export(path: Path) -> SaidByExport | None:
    """Whose export a file is, by what it says of itself; None for whatever is none of ours."""
    try:
        if not stat.S_ISREG(path.lstat().st_mode):
            return None
        said = msgspec.json.decode(_first_member(path), type=SaidByExport)
    except (OSError, ValueError, RecursionError, struct.error):
        return None
    return said if said.format == FORMAT else None


def _first_member(path: Path) -> bytes:
    """The contents, where they come first and unpacked, as we write them. Raises `ValueError` for anything else."""
    with path.open("rb") as file:
        head = _LOCAL_HEADER.unpack(file.read(_LOCAL_HEADER.size))
        signature, _, _, method, *_, size, _, name_length, more_length = head
        name = file.read(name_length)
        if (signature, method, name) != (_SIGNATURE, _STORED, CONTENTS.encode()) or size > _MOST_BYTES:
            raise ValueError("no contents at the beginning")
        file.seek(more_length, 1)
        return file.read(size)
