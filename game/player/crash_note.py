"""A note of what went wrong, beside the log: for whoever mends the program. Nothing is sent anywhere."""

import platform
import traceback
from datetime import UTC, datetime
from pathlib import Path

from game import __version__

# Older ones go: they were the same fault, or were mended long ago.
MOST_KEPT = 10


def write_crash_note(folder: Path, fault: BaseException, *, screen: str) -> Path | None:
    """Write down a fault with its trace and the screen it happened on; None where the disk refuses."""
    now = datetime.now(UTC)
    path = folder / f"crash-{now:%Y-%m-%dT%H-%M-%S-%f}.txt"
    head = (
        f"Homefret {__version__}, Python {platform.python_version()}, {platform.system()}, {screen}, {now:%c} UTC\n\n"
    )
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path.write_text(head + "".join(traceback.format_exception(fault)), encoding="utf-8")
        for old in sorted(folder.glob("crash-*.txt"))[:-MOST_KEPT]:
            old.unlink(missing_ok=True)
    except OSError:
        return None
    return path
