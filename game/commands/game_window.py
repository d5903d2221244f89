"""The game in its window, from the first frame until the player leaves."""

import gc
import sys
from collections.abc import Sequence
from pathlib import Path

import pygame

from game.app import App, run
from game.clock import SystemClock
from game.commands.interruption import raise_what_was_lost
from game.commands.terminal_closed import ended_by_hang_up
from game.player.profiles import player_at_start
from game.player.session import open_session
from game.screens.context import ScreenContext
from game.screens.devices import Devices
from game.screens.window import Window
from game.screens.window_size import first_size, open_window
from game.text.catalogue import say
from game.text.language import choose_language


def play(files: Sequence[Path] = ()) -> int:
    """Play until the player leaves, with these files open; returns the exit status."""
    pygame.font.init()
    app = App(open_window(first_size(pygame.display.get_desktop_sizes())), _context())
    app.draw()
    pygame.display.flip()
    gc.enable()
    _load_the_rest(app)
    app.open_files(files)
    with ended_by_hang_up(app.end):
        try:
            run(app, raise_what_was_lost)
        finally:
            app.context.window.imports.leave()
            if app.instrument_events:
                app.instrument_events.close()
            unwritten = app.context.session.close()
            app.context.session.rest()
            _prepare_next_start(app)
            if unwritten:
                print(say("command.mistake", mistake=unwritten), file=sys.stderr)
            pygame.quit()
            app.context.session.gatherer.leave(app.context.clock.now_s())
    return 0


def _prepare_next_start(app: App) -> None:
    """Let another process make what the next first frame shows."""
    from game.screens.choosing.coming_days import begin_preparing  # noqa: PLC0415

    begin_preparing(app.context.session)


def _context() -> ScreenContext:
    """Who plays, and with which settings: what of it cannot be read is said on screen, and does without."""
    begins = player_at_start()
    session = open_session(begins.player, SystemClock())
    choose_language(session.settings.language)
    context = ScreenContext(session=session, devices=Devices(), window=Window())
    for trouble in (begins.trouble, session.settings_trouble):
        if trouble:
            context.say_error(trouble)
    return context


def _load_the_rest(app: App) -> None:
    """What the first frame did not need."""
    from game.screens.startup import finish_startup  # noqa: PLC0415

    app.instrument_events = finish_startup(app.context)
    app.begin()
