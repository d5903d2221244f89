"""What an export of any form says of itself, and what goes wrong in reading one: in the child with limits, which is
ready a tenth of a second sooner by loading no more than this.
"""

import sqlite3
import zipfile
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import msgspec

from game.errors import LogError, reason_of
from game.message import Message, message, verbatim
from game.practice_log.transfer.contents import CONTENTS, FORMAT
from game.text.clean_text import cleaned

MAX_CONTENTS_BYTES = 1_000_000
MAX_MEMBERS = 1_000
MAX_BYTES = 2_000_000_000


class _Kind(msgspec.Struct, frozen=True):
    """What comes first to be known of a file: whether this program knows its kind."""

    format: object


def export_contents(archive: zipfile.ZipFile, name: str) -> bytes:
    """The `contents.json` of an export of any form. Raises `LogError` for a file that is none."""
    if len(archive.filelist) > MAX_MEMBERS:
        raise LogError("transfer.too_many_members", file=name, count=len(archive.filelist))
    if CONTENTS not in archive.namelist():
        raise LogError("export.no_contents", file=name, contents=CONTENTS)
    # The size in the archive's own list may lie: read one byte more than is allowed and see.
    with archive.open(CONTENTS) as member:
        text = member.read(MAX_CONTENTS_BYTES + 1)
    if len(text) > MAX_CONTENTS_BYTES:
        raise LogError("export.contents_too_long", file=name, contents=CONTENTS)
    kind = msgspec.json.decode(text, type=_Kind).format
    if kind != FORMAT:
        raise LogError("export.another_format", file=name, given=cleaned(str(kind), 40))
    return text


def on_one_line(text: bytes) -> msgspec.Raw:
    """JSON as a part of a line. Raises `msgspec.MsgspecError` for what is none."""
    return msgspec.Raw(msgspec.json.format(text, indent=-1))


@contextmanager
def export_faults(path: Path) -> Iterator[None]:
    """What goes wrong in reading an export that is damaged, as `LogError`."""
    try:
        yield
    except (OSError, EOFError, zipfile.BadZipFile, NotImplementedError, RuntimeError, zlib.error) as error:
        raise LogError("export.unreadable", file=path.name, reason=_reason(path, error)) from error
    except (ValueError, TypeError, RecursionError, OverflowError, msgspec.MsgspecError, sqlite3.Error) as error:
        raise LogError("export.damaged", file=path.name, reason=_reason(path, error)) from error


def _reason(path: Path, error: Exception) -> Message:
    if isinstance(error, OSError):
        return reason_of(error)
    if isinstance(error, zipfile.BadZipFile | EOFError | zlib.error):
        return message("export.damaged_zip" if _is_whole(path) else "export.no_zip")
    return verbatim(cleaned(str(error) or type(error).__name__, 120))


def _is_whole(path: Path) -> bool:
    """Whether a file ends as a zip does: what broke off, and what is none, does not."""
    with suppress(OSError):
        return zipfile.is_zipfile(path)
    return False
