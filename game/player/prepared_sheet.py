"""What the first frame of the next start shows, kept beside the log by day: it may be thrown away at any time.

It is only ever shown until the log is open. What an other program made, under other settings or in another language, is
left unread.
"""

import hashlib
import os
from collections.abc import Mapping
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TypeVar

import msgspec

from game import __version__
from game.player.settings import Settings

_FORM = 1
"""One more whenever anything that is kept gets another structure or meaning."""

_NAME = "today.prepared"
_MOST_BYTES = 4_000_000

Sheet = TypeVar("Sheet")


class _Prepared(msgspec.Struct, frozen=True):
    """Sheets by their days, as they lie in their file. One is decoded only where it is shown."""

    made_by: str
    days: dict[date, msgspec.Raw]


def write_prepared(folder: Path, sheets: Mapping[date, object], settings: Settings, language: str) -> None:
    """Keep the sheets of some days in place of those of before. A disk that refuses changes nothing."""
    days = {day: msgspec.Raw(msgspec.msgpack.encode(sheet)) for day, sheet in sheets.items()}
    draft = folder / f"{_NAME}.{os.getpid()}.unfinished"
    with suppress(OSError):
        draft.write_bytes(msgspec.msgpack.encode(_Prepared(_made_by(settings, language), days)))
        draft.replace(folder / _NAME)


def read_prepared(
    folder: Path, day: date, sheet_type: type[Sheet], settings: Settings, language: str
) -> tuple[Sheet, bool] | None:
    """The sheet of a day, and True; where that day has none, the newest there is, and False; None for none at all."""
    try:
        with (folder / _NAME).open("rb") as file:
            kept = msgspec.msgpack.decode(file.read(_MOST_BYTES), type=_Prepared)
        if kept.made_by != _made_by(settings, language) or not kept.days:
            return None
        made = kept.days.get(day)
        sheet = msgspec.msgpack.decode(kept.days[max(kept.days)] if made is None else made, type=sheet_type)
    except (OSError, msgspec.MsgspecError, ValueError, RecursionError):
        return None
    return sheet, made is not None


def _made_by(settings: Settings, language: str) -> str:
    told = hashlib.sha256(repr(settings).encode()).hexdigest()[:16]
    return f"{__version__} {_FORM} {language} {told}"
