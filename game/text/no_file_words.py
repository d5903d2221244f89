"""What is no plain file, in words: files from elsewhere are looked at before they are opened, for a pipe might never
end.
"""

import stat

_NO_FILES = (
    (stat.S_ISDIR, "transfer.is_folder"),
    (stat.S_ISFIFO, "transfer.is_pipe"),
    (stat.S_ISSOCK, "transfer.is_socket"),
)


def kind_of_no_file(mode: int) -> str | None:
    """The key of the words for it, by its `st_mode`; None for a plain file. Whatever else there is, is a device."""
    if stat.S_ISREG(mode):
        return None
    return next((key for is_kind, key in _NO_FILES if is_kind(mode)), "transfer.is_device")
