"""The game, with files dropped on its window from elsewhere: `python -m tests.system.game_with_drops`.

Each line on its standard input is the path of a file or folder, its bytes in hexadecimal. It is dropped as the system
reports it, whatever the bytes.
"""

import sys
import threading

from game.commands.main import main
from tests.screens.dropped_by_sdl import drop


def _drop_what_is_named() -> None:
    for line in sys.stdin:
        drop(bytes.fromhex(line.strip()))


if __name__ == "__main__":
    threading.Thread(target=_drop_what_is_named, daemon=True).start()
    sys.exit(main([]))
