"""The `homefret` command. Without a word after it, the game."""

import atexit
import sys

from game.commands.interruption import INTERRUPTED, end_as_usual, end_at_once, say_again, was_interrupted

__all__ = ["main"]


def main(argv: list[str] | None = None) -> int:
    """Run a command and return its exit status; 130 where Ctrl-C ended it, about which nothing is said."""
    end_at_once()
    hook, sys.unraisablehook = sys.unraisablehook, say_again
    try:
        # This takes its time, and Ctrl-C may come meanwhile.
        from game.commands.main import main as run  # noqa: PLC0415

        return run(argv)
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception:
        if was_interrupted():
            return INTERRUPTED
        raise
    finally:
        sys.unraisablehook = hook
        end_as_usual()
        # Registered at the end it is the first that is done while the interpreter takes itself apart.
        atexit.unregister(end_at_once)
        atexit.register(end_at_once)


if __name__ == "__main__":
    sys.exit(main())
