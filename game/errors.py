"""What can go wrong, for the person at the instrument to mend.

Every message says what is wrong, where, and what to do. A command prints it on one line and exits with status 2;
the game shows it on the page and goes on. The sentences themselves stand in the text catalogue.
"""

import errno

from game.message import Message, message, verbatim


class HomefretError(Exception):
    """Root of all errors that are the user's to mend: a key of the catalogue with its values, or a message."""

    def __init__(self, said: str | Message, /, **values: object) -> None:
        self.message = said if isinstance(said, Message) else message(said, **values)
        super().__init__(self.message)

    def __str__(self) -> str:
        """For a trace; people read `game.text`."""
        values = ", ".join(f"{name}={value!r}" for name, value in self.message.values)
        return f"{self.message.key}({values})"


class TuneError(HomefretError):
    """A tune file cannot be read."""


class SeveralPartsError(TuneError):
    """A file holds several parts and none was chosen.

    `names` are the parts in the order of the file; part numbers count from 1.
    """

    def __init__(self, said: str | Message, /, *, names: tuple[str, ...], **values: object) -> None:
        super().__init__(said, **values)
        self.names = names


class SeveralTunesError(SeveralPartsError):
    """A file holds several tunes and none was chosen: each is a tune of its own, and all may be wanted."""


class MapError(HomefretError):
    """A map, a tuning or a place that cannot be."""


class TakeError(HomefretError):
    """A take that cannot be judged."""


class InstrumentError(HomefretError):
    """A MIDI port or message source that cannot be used."""


class SettingsError(HomefretError):
    """A settings file that cannot be read."""


class AudioError(HomefretError):
    """A sound that cannot be made."""


class LogError(HomefretError):
    """A practice log that cannot be opened or read."""


_BY_NUMBER = {
    errno.EACCES: "system.not_allowed",
    errno.EPERM: "system.not_permitted",
    errno.ENOENT: "system.not_there",
    errno.ENOSPC: "system.no_room",
    errno.EDQUOT: "system.no_room_of_ones_own",
    errno.EFBIG: "system.file_too_large",
    errno.EROFS: "system.read_only",
    errno.EISDIR: "system.is_folder",
    errno.ENOTDIR: "system.no_folder",
    errno.EEXIST: "system.there_already",
    errno.ENOTEMPTY: "system.folder_not_empty",
    errno.ENAMETOOLONG: "system.name_too_long",
    errno.ELOOP: "system.too_many_links",
    errno.EBUSY: "system.busy",
    errno.EMFILE: "system.too_many_files",
    errno.EINVAL: "system.invalid",
    errno.EIO: "system.input_output",
    errno.ENODEV: "system.no_device",
    errno.ENOTCONN: "system.drive_not_connected",
    errno.ESTALE: "system.drive_went_away",
    errno.ENOMEM: "system.no_memory",
}
"""What goes wrong with files and drives (POSIX, errno.h), as the catalogue has it; English as glibc says it."""

_BY_CODE_OF_DATABASE = {
    13: "system.disk_full",  # SQLITE_FULL
    5: "system.held_elsewhere",  # SQLITE_BUSY
    6: "system.held_elsewhere",  # SQLITE_LOCKED
    15: "system.held_elsewhere",  # SQLITE_PROTOCOL
    8: "system.file_read_only",  # SQLITE_READONLY
    3: "system.may_not_be_opened",  # SQLITE_PERM
    14: "system.cannot_be_opened",  # SQLITE_CANTOPEN
    10: "system.disk_fault",  # SQLITE_IOERR
    11: "system.database_malformed",  # SQLITE_CORRUPT
    26: "system.no_database",  # SQLITE_NOTADB
    7: "system.memory_short",  # SQLITE_NOMEM
}
"""By the primary result code (sqlite.org, "Result and Error Codes")."""


def reason_of(error: BaseException) -> Message:
    """Why a system or a library refused something, for the gap of a sentence: in words of the catalogue for what
    happens to files and drives, else as the error tells it, or its name where it tells nothing.
    """
    told = getattr(error, "strerror", None)
    if getattr(error, "winerror", None) and told:
        # Windows says it in the language of its user, and tells more apart.
        return verbatim(told)
    of_database, of_system = getattr(error, "sqlite_errorcode", 0) & 0xFF, getattr(error, "errno", None)
    key = _BY_CODE_OF_DATABASE.get(of_database) or _BY_NUMBER.get(of_system or 0)
    return message(key) if key else verbatim(str(told or error) or type(error).__name__)
