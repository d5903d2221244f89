"""Small marks that are kept for a player, one a line, in a file of their own: what was seen, met, or is known."""

import os
import re
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

MOST_BYTES = 2_000_000


def read_ids(path: Path, which: re.Pattern[str]) -> tuple[str, ...]:
    """The marks in a file, in order; none where nothing was kept or can be read. Whatever is none of `which` in a
    damaged file is passed over.
    """
    try:
        with path.open("rb") as file:
            lines = file.read(MOST_BYTES).decode("ascii", errors="ignore").splitlines()
    except OSError:
        return ()
    return tuple(line for line in lines if which.fullmatch(line))


def write_ids(path: Path, marks: Iterable[str]) -> None:
    """Put these marks in the place of all that were kept: a crash leaves the old file or the new one, and a disk that
    refuses changes nothing.
    """
    draft = path.with_name(f"{path.name}.{os.getpid()}.unfinished")
    with suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        draft.write_text("".join(f"{mark}\n" for mark in marks), encoding="ascii")
        draft.replace(path)
