"""The system's own window for choosing files, in a process of its own: `python -m game.screens.choosing.file_chooser`;
with `folder` behind it, for choosing a folder.

Tk and SDL would quarrel over one event loop, and a chooser that hangs must not hang the game. What was chosen is
written to standard output as a JSON list of paths; exit status 3 where Python came without Tk or has no screen for it.
"""

import json
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from game.errors import HomefretError

WITHOUT_TK = 3
_FOLDER = "folder"
_COMMAND = (sys.executable, "-m", "game.screens.choosing.file_chooser")
FOLDER_COMMAND = (*_COMMAND, _FOLDER)
"""Starts the window in which a folder is chosen."""

_KINDS = "*.musicxml *.xml *.mxl *.abc *.mid *.midi *.toml *.toml.txt"


class FileChooser:
    """The window, while it is open. `command` starts it."""

    def __init__(self, command: Sequence[str] = _COMMAND) -> None:
        self._command = command
        self._open: subprocess.Popen[bytes] | None = None

    def open(self) -> None:
        """Open the window; one that is open already stays. Raises `OSError` where no process can be started."""
        if self._open is None:
            # The command is ours; nothing a player gave is in it.
            self._open = subprocess.Popen(  # noqa: S603
                self._command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
            )

    def poll(self) -> tuple[Path, ...] | None:
        """What was chosen, once: none where the player changed their mind; None while the window is open or was never
        opened. Raises `HomefretError` where there is no such window here.
        """
        if self._open is None or self._open.poll() is None:
            return None
        done, self._open = self._open, None
        said, _ = done.communicate()
        if done.returncode == WITHOUT_TK:
            raise HomefretError("chooser.no_windows")
        try:
            return tuple(Path(path) for path in json.loads(said or b"[]"))
        except (ValueError, TypeError):
            return ()


def main(*, folder: bool) -> int:
    """Let the player choose files, or a folder, and say what."""
    try:
        import tkinter as tk  # noqa: PLC0415 - not every Python has it
        from tkinter import filedialog  # noqa: PLC0415

        root = tk.Tk()
    except Exception as error:  # noqa: BLE001 - no Tk, or a TclError that only Tk knows
        print(error, file=sys.stderr)
        return WITHOUT_TK
    root.withdraw()
    if folder:
        chosen = [path for path in [filedialog.askdirectory(parent=root, mustexist=True)] if path]
    else:
        kinds = [("MusicXML, ABC, MIDI", _KINDS), ("*", "*")]
        chosen = list(filedialog.askopenfilenames(parent=root, filetypes=kinds))
    root.destroy()
    print(json.dumps(chosen))
    return 0


if __name__ == "__main__":
    sys.exit(main(folder=_FOLDER in sys.argv[1:]))
