"""Files that come onto the shelf: chosen in the system's own window, dropped, of several parts, or refused."""

import pygame

from game.errors import HomefretError, reason_of
from game.screens.choosing.import_words import MOST_PARTS_ASKED, import_told
from game.screens.context import ScreenContext
from game.screens.dropped_files import is_assignment, opened_text
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Route, ToImportAccount
from game.text.catalogue import say
from game.tunes.library.import_queue import ImportQueue


class ShelfFiles:
    """What is going on with files. `refused` are those that were not read the last time some were not."""

    def __init__(self, context: ScreenContext) -> None:
        self._context = context
        self.newest = self._imports.newest
        self.refused = self._imports.refused
        if self._imports.to_choose is not None:
            context.say(import_told(self._imports.to_choose))

    @property
    def _imports(self) -> ImportQueue:
        return self._context.window.imports

    def came(self) -> bool:
        """Whether tunes came since this was last asked."""
        if self._imports.newest is self.newest:
            return False
        self.newest = self._imports.newest
        return True

    def account_of_refused(self) -> Route | None:
        """Where several files were not read, and this was not shown yet, each is named with its reason."""
        refused = self._imports.refused
        if refused is self.refused or refused is None:
            return None
        self.refused = refused
        return ToImportAccount(refused) if len(refused.faults) > 1 else None

    def choose(self) -> None:
        """The system's own window for choosing files."""
        try:
            self._context.window.chooser.open()
        except OSError as error:
            self._context.say(say("shelf.no_chooser", reason=reason_of(error)))

    def take_chosen(self) -> Route | None:
        """What was chosen there is read as if it were dropped. Where an assignment leads; None for tunes."""
        try:
            chosen = self._context.window.chooser.poll() or ()
        except HomefretError as error:
            self._context.say(say("shelf.no_chooser", reason=error.message))
            return None
        route: Route | None = None
        for path in chosen:
            if is_assignment(path):
                route = opened_text(self._context, path)
            else:
                self._context.say(import_told(self._imports.drop(path)))
        return route

    def chose_part(self, event: pygame.event.Event) -> bool:
        """Whether this key answers which part of a dropped tune is meant."""
        to_choose = self._imports.to_choose
        if to_choose is None or not event.unicode.isdigit() or not 1 <= int(event.unicode) <= len(to_choose.names):
            return False
        started = self._imports.drop(to_choose.path, int(event.unicode))
        self._context.say(import_told(started))
        return True

    @property
    def hints(self) -> tuple[KeyHint, ...]:
        """The keys that answer which part is meant."""
        to_choose = self._imports.to_choose
        if to_choose is None:
            return ()
        digits = range(1, min(len(to_choose.names), MOST_PARTS_ASKED) + 1)
        return key_hints((" ".join(map(str, digits)), "keys.part"))
