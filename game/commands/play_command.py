"""`homefret` alone: the game. The window comes first; MIDI, engraver and everything slow come after the first frame."""

import os
import sys
from types import ModuleType
from typing import TYPE_CHECKING

from game.text.language import choose_language

if TYPE_CHECKING:
    from game.app import App
    from game.screens.context import ScreenContext

_WITHOUT_SCREEN = ("offscreen", "dummy")


def run() -> int:
    """Open the game and play until the player leaves. Without any screen, say so and run the demo."""
    chosen = os.environ.get("SDL_VIDEODRIVER")
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    # Drawing in software, a flip through an accelerated texture costs several times as much.
    os.environ.setdefault("SDL_FRAMEBUFFER_ACCELERATION", "0")
    # By this the desktop knows the window.
    os.environ.setdefault("SDL_VIDEO_X11_WMCLASS", "homefret")
    pygame = _pygame()
    try:
        pygame.display.init()
    except pygame.error:
        return _demo_instead()
    if not chosen and pygame.display.get_driver() in _WITHOUT_SCREEN:
        pygame.display.quit()
        return _demo_instead()
    return _play()


def _pygame() -> ModuleType:
    """Import pygame without `pkg_resources`, through which it would look up files of its own where setuptools is
    installed: a tenth of a second at every start, and a warning on the terminal, for what it does as well without.
    """
    absent = "pkg_resources" not in sys.modules
    if absent:
        sys.modules["pkg_resources"] = None  # type: ignore[assignment]
    try:
        import pygame  # noqa: PLC0415 - not before the environment is settled
    finally:
        if absent:
            del sys.modules["pkg_resources"]
    return pygame


def _play() -> int:
    import pygame  # noqa: PLC0415

    from game import app as game_app  # noqa: PLC0415

    pygame.font.init()
    surface = game_app.open_window()
    app = game_app.App(surface, _surroundings())
    app.draw()
    pygame.display.flip()
    _load_the_rest(app)
    try:
        game_app.run(app)
    finally:
        if app.ears:
            app.ears.close()
        unwritten = app.around.keeping.close() if app.around.keeping else None
        if unwritten:
            print(f"homefret: {unwritten}", file=sys.stderr)
        pygame.quit()
    return 0


def _surroundings() -> "ScreenContext":
    """Who plays, and with which settings: what of it cannot be read is said on screen, and does without."""
    from game.clock import SystemClock  # noqa: PLC0415
    from game.errors import HomefretError  # noqa: PLC0415
    from game.player import settings as game_settings  # noqa: PLC0415
    from game.player.profiles import first, player_at_start, players  # noqa: PLC0415
    from game.screens.context import ScreenContext  # noqa: PLC0415

    trouble: HomefretError | None = None
    several = False
    try:
        several = len(players()) > 1
        player = player_at_start()
    except HomefretError as error:
        player, trouble = first(), error
    try:
        settings = game_settings.load(player.settings_path)
    except HomefretError as error:
        settings, trouble = game_settings.Settings(), error
    choose_language(settings.language)
    around = ScreenContext(
        clock=SystemClock(),
        settings=settings,
        settings_path=player.settings_path,
        folder=player.folder,
        player_name=player.name,
        several_players=several,
    )
    if trouble:
        around.say_error(trouble)
    return around


def _load_the_rest(app: "App") -> None:
    """What the first frame did not need."""
    from game.audio.sound import open_sound  # noqa: PLC0415
    from game.player.player_log import PlayerLog  # noqa: PLC0415
    from game.player.session import sit_down  # noqa: PLC0415
    from game.screens.instrument_events import InstrumentEvents  # noqa: PLC0415

    app.ears = InstrumentEvents(app.around)
    around = app.around
    sit_down(around, PlayerLog(around.own_folder))
    around.sound = open_sound(around.settings)
    around.sound.make_ready(tuple(around.settings.neck_map().places))
    app.warm_up()


def _demo_instead() -> int:
    print(
        "There is no screen here: the demo runs instead, and leaves its pictures in a folder.",
        file=sys.stderr,
    )
    from game.commands import demo_command  # noqa: PLC0415

    return demo_command.run_fast()
