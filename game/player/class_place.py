"""Where the gathered file of a class lies when nobody says otherwise: in the program's own folder, one to a folder of
exports.
"""

import hashlib
import os
from pathlib import Path

from game.errors import LogError, reason_of
from game.paths import user_data

CLASSES = "classes"
"""The folder of all gathered classes, for its owner alone."""

_DIGITS = 16


def class_place(folder: Path) -> Path:
    """The file into which a folder is gathered, by whichever way the folder is named. Its own folder is there then, the
    file need not be. Raises `LogError` where that folder cannot be made, or `folder` leads round in a circle.
    """
    classes = user_data() / CLASSES
    try:
        classes.mkdir(mode=0o700, exist_ok=True)
        # A name that is no UTF-8 stands for itself. The rest is as good as no chance of two (FIPS 180-4).
        digest = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()
    except (OSError, RuntimeError) as error:
        reason = reason_of(error)
        raise LogError("class.cannot_be_written", file=classes, reason=reason) from error
    return classes / f"{digest[:_DIGITS]}.sqlite"
