"""Files from elsewhere before they are read: what is no plain file is refused, and a zip is told by its first bytes."""

from dataclasses import dataclass
from pathlib import Path

from game.errors import HomefretError, LogError, reason_of
from game.message import message
from game.text.no_file_words import kind_of_no_file

_ZIP = b"PK"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadingWords:
    """What is said of a file that cannot be read: the kind of error, and the key of each sentence. `libraries` are
    modules that the reading needs besides our own.
    """

    error: type[HomefretError] = LogError
    no_such_file: str = "transfer.no_such_file"
    cannot_be_opened: str = "transfer.cannot_be_opened"
    damaged: str = "export.damaged"
    too_slow: str = "transfer.too_slow"
    libraries: tuple[str, ...] = ()


OF_A_LOG = ReadingWords()


def refuse_no_plain_file(path: Path, said: ReadingWords = OF_A_LOG) -> int:
    """The size of a file in bytes. Raises `LogError`, or what else is `said`, for what is none and is never opened: a
    pipe might never end.
    """
    try:
        found = path.stat()
    except (OSError, ValueError) as error:
        if isinstance(error, FileNotFoundError) and path.is_symlink():
            raise said.error(message("transfer.link_to_nothing", file=path)) from error
        if isinstance(error, FileNotFoundError):
            raise said.error(message(said.no_such_file, file=path)) from error
        reason = reason_of(error)
        raise said.error(message(said.cannot_be_opened, file=path, reason=reason)) from error
    kind = kind_of_no_file(found.st_mode)
    if kind is not None:
        raise said.error("transfer.no_plain_file", file=path, kind=message(kind))
    return found.st_size


def is_packed(path: Path) -> bool:
    """Whether a file is a zip, as exports are, by its first bytes. Raises `LogError` for what is no plain file."""
    refuse_no_plain_file(path)
    try:
        with path.open("rb") as file:
            return file.read(len(_ZIP)) == _ZIP
    except OSError as error:
        raise LogError("transfer.cannot_be_opened", file=path, reason=reason_of(error)) from error
