"""`homefret` alone: the game. The window comes first; MIDI, engraver and everything slow come after the first frame."""

import os
import sys
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from game.app import App

_WITHOUT_SCREEN = ("offscreen", "dummy")


def run() -> int:
    """Open the game and play until the player leaves. Without any screen, say so and run the demo."""
    chosen = os.environ.get("SDL_VIDEODRIVER")
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    # Drawing in software, a flip through an accelerated texture costs several times as much.
    os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
    import pygame  # noqa: PLC0415 - the environment must be settled before

    try:
        pygame.display.init()
    except pygame.error:
        return _demo_instead()
    if not chosen and pygame.display.get_driver() in _WITHOUT_SCREEN:
        pygame.display.quit()
        return _demo_instead()
    return _play()


def _play() -> int:
    import pygame  # noqa: PLC0415

    from game import app as game_app  # noqa: PLC0415
    from game import settings as game_settings  # noqa: PLC0415
    from game.clock import SystemClock  # noqa: PLC0415
    from game.desk.surroundings import Surroundings
    from game.errors import HomefretError  # noqa: PLC0415
    from game.paths import user_settings  # noqa: PLC0415
    from game.tunes.library import Library  # noqa: PLC0415

    pygame.font.init()
    surface = game_app.open_window()
    path = user_settings()
    trouble = None
    try:
        settings = game_settings.load(path)
    except HomefretError as error:
        settings, trouble = game_settings.Settings(), error
    around = Surroundings(
        clock=SystemClock(), settings=settings, settings_path=path, library=Library.of_player()
    )
    app = game_app.App(surface, around)
    if trouble:
        around.say_error(trouble)
    app.draw()
    pygame.display.flip()
    if os.environ.get("HOMEFRET_FIRST_FRAME_ONLY"):
        return 0
    _load_the_rest(app)
    try:
        game_app.run(app)
    finally:
        if app.live:
            app.live.close()
        pygame.quit()
    return 0


def _load_the_rest(app: "App") -> None:
    """What the first frame did not need."""
    from game.app import setup_from  # noqa: PLC0415
    from game.engraving import engraver  # noqa: PLC0415
    from game.errors import HomefretError  # noqa: PLC0415
    from game.instrument.find_driver import FoundDriver, find_driver_for_environment  # noqa: PLC0415
    from game.instrument.live import LiveInstrument  # noqa: PLC0415
    from game.instrument.ports import MidiInputs  # noqa: PLC0415

    try:
        found = find_driver_for_environment()
    except HomefretError as error:
        found = FoundDriver(None, str(error))
    inputs = MidiInputs(found, app.around.clock.now_s)
    inputs.watch()
    app.listen(LiveInstrument(inputs, setup_from(app.around.settings)))
    engraver.prepare()


def _demo_instead() -> int:
    print(
        "There is no screen here: the demo runs instead, and leaves its pictures in a folder.",
        file=sys.stderr,
    )
    from game.commands import demo  # noqa: PLC0415

    return demo.run_fast()
