"""The `homefret` command. Without a word after it, the game."""

import sys

from game.commands.main import main

__all__ = ["main"]

if __name__ == "__main__":
    sys.exit(main())
