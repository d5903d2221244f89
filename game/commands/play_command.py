"""`homefret`, alone or with files: the game. The window comes first; all that is slow comes after the first frame."""

import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from types import ModuleType

from game.commands.interruption import end_tidily
from game.text.catalogue import say

_WITHOUT_SCREEN = ("offscreen", "dummy")
_NOT_NEEDED = ("pkg_resources", "pygame.surfarray", "pygame.sndarray")


def run(files: Sequence[Path] = ()) -> int:
    """Open the game, with these tunes or this assignment, and play until the player leaves. Without any screen, say so
    and run the demo.
    """
    # Nothing of what is loaded now is garbage: looking for it costs a twentieth of the time to the first frame.
    gc.disable()
    chosen = os.environ.get("SDL_VIDEODRIVER")
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    # Drawing in software, a flip through an accelerated texture costs several times as much.
    os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
    # By this the desktop knows the window.
    os.environ.setdefault("SDL_VIDEO_X11_WMCLASS", "homefret")
    # Where screens are dense, Windows would draw us small and blow that up.
    os.environ.setdefault("SDL_WINDOWS_DPI_AWARENESS", "permonitorv2")
    pygame = _pygame()
    # SDL answers to Ctrl-C itself where nobody else does.
    end_tidily()
    try:
        pygame.display.init()
    except pygame.error:
        return _demo_instead()
    if not chosen and pygame.display.get_driver() in _WITHOUT_SCREEN:
        pygame.display.quit()
        return _demo_instead()
    from game.commands.game_window import play  # noqa: PLC0415 - not before the environment is settled

    return play(files)


def _pygame() -> ModuleType:
    """Import pygame without what it would load only to be complete. `pkg_resources` looks up files of pygame's own, and
    warns on the terminal where setuptools is installed; `surfarray` and `sndarray`, which nothing here uses, bring
    numpy: a tenth of a second each, at every start.
    """
    absent = [name for name in _NOT_NEEDED if name not in sys.modules]
    sys.modules.update(dict.fromkeys(absent))  # type: ignore[arg-type]
    try:
        import pygame  # noqa: PLC0415 - not before the environment is settled
    finally:
        for name in absent:
            del sys.modules[name]
    return pygame


def _demo_instead() -> int:
    print(say("command.no_screen"), file=sys.stderr)
    gc.enable()
    from game.commands import demo_command  # noqa: PLC0415 - only where there is no screen

    return demo_command.run_fast()
