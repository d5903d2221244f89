"""Where things lie: what we ship (beside the package, or in the checkout) and what the user owns; and how a file gets
there whole.
"""

import errno
import os
import unicodedata
from contextlib import suppress
from pathlib import Path

import platformdirs

_PACKAGE = Path(__file__).resolve().parent


def shipped(*parts: str) -> Path:
    """A shipped file or folder, such as `shipped("content", "tunes")`.

    Installed, the data stand inside the package; in a checkout, beside it.
    """
    inside = _PACKAGE.joinpath(*parts)
    return inside if inside.exists() else _PACKAGE.parent.joinpath(*parts)


def user_data() -> Path:
    """The folder for the player's library and practice log; made when first asked for, for its owner alone."""
    folder, _ = own_folders()
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder


def user_settings() -> Path:
    """The player's settings file, which may not be there yet."""
    _, folder = own_folders()
    return folder / "settings.json"


def own_folders() -> tuple[Path, Path]:
    """All that is kept for whoever uses this computer: the folder of their data, and that of their settings. Neither
    need be there yet.
    """
    data, settings = (
        one("homefret", appauthor=False) for one in (platformdirs.user_data_dir, platformdirs.user_config_dir)
    )
    return Path(data), Path(settings)


def without_links(path: Path) -> Path:
    """A whole path without links, whether anything is there or not; one that leads round in a circle stays in it."""
    return Path(os.path.realpath(path))


def file_called(folder: Path, name: str) -> Path:
    """The file of a name in a folder, whether it is there or not. Where it is not, one whose name is the same to a Mac
    or to Windows is meant: with other capitals, or with umlauts in two signs. Other systems take those for two files.
    """
    path = folder / name
    with suppress(OSError, ValueError):
        if not path.exists():
            same = (one for one in sorted(folder.iterdir()) if _alike(one.name) == _alike(name))
            return next(same, path)
    return path


def _alike(name: str) -> str:
    return unicodedata.normalize("NFC", name).casefold()


def write_whole_file(path: Path, content: bytes, *, forced: bool = True) -> None:
    """Write a whole file or none: a full disk or a power cut leaves what was there; where it is not `forced` onto the
    disk before it takes its name, a power cut may leave it empty. Where the name is a link, what it leads to is
    written; a device or a pipe is written into, and not replaced. Raises `OSError`.
    """
    try:
        path = path.resolve()
    except RuntimeError as error:
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path)) from error
    if path.exists() and not path.is_file() and not path.is_dir():
        path.write_bytes(content)
        return
    if path.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
    unfinished = path.with_name(f"{path.name}.{os.getpid()}.unfinished")
    try:
        with unfinished.open("wb") as file:
            file.write(content)
            if forced:
                file.flush()
                os.fsync(file.fileno())
        unfinished.replace(path)
    except OSError:
        with suppress(OSError):
            unfinished.unlink(missing_ok=True)
        raise
