"""The folder that a player's computers share: which it is, and how it is chosen."""

from pathlib import Path

import pygame

from game.errors import HomefretError, reason_of
from game.screens.base_screen import BaseScreen
from game.screens.choosing.file_chooser import FOLDER_COMMAND, FileChooser
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route
from game.screens.setup.dialog_sheet import back_words, draw_foot, draw_running, lay_dialog
from game.text.catalogue import as_sentence, say


class SharingScreen(BaseScreen):
    """Through which folder what is played here is brought together with what is played on the player's other computers.
    It is chosen in the system's own window.
    """

    free_string_commands = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.chooser = FileChooser(FOLDER_COMMAND)
        self._strangers = context.session.sharing.has_strangers

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._go_on()
        if event.key == pygame.K_o and event.mod & pygame.KMOD_CTRL:
            self._choose()
        elif event.key == pygame.K_DELETE and self.context.session.sharing.folder is not None:
            self._share_no_more()
        return None

    def _go_on(self) -> Route | None:
        """What the corner leads to: to a folder, to one player out of several, or back."""
        if self._strangers:
            self._become_one()
        elif self.context.session.sharing.folder is None:
            self._choose()
        else:
            return Back()
        return None

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - what was chosen comes when it comes
        try:
            for folder in self.chooser.poll() or ():
                self.context.session.sharing.share_through(folder)
                self.context.say(say("sharing.chosen", folder=folder))
                self._strangers = self.context.session.sharing.has_strangers
        except HomefretError as error:
            self.context.say_error(error)
        return None

    def _choose(self) -> None:
        try:
            self.chooser.open()
        except OSError as error:
            self.context.say(say("shelf.no_chooser", reason=reason_of(error)))

    def _share_no_more(self) -> None:
        """What lies in the folder stays there: other computers may still lack it."""
        try:
            self.context.session.sharing.share_through(None)
            self._strangers = False
            self.context.say(say("sharing.no_more"))
        except HomefretError as error:
            self.context.say_error(error)

    def _become_one(self) -> None:
        """Everybody who shares there is this player."""
        try:
            changed = self.context.session.become_one()
            self.context.say(say("sharing.one"))
            self.context.say_taken_over(changed)
        except HomefretError as error:
            self.context.say_error(error)
        self._strangers = self.context.session.sharing.has_strangers

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, top = lay_dialog(self.context, surface, say("sharing.title"))
        folder = self.context.session.sharing.folder
        end = draw_running(canvas, _told(folder), top + 20)
        if self._strangers:
            draw_running(canvas, say("sharing.strangers"), end + 16, quiet=True)
        else:
            end = draw_running(canvas, say("sharing.holds"), end + 16)
            draw_running(canvas, say("sharing.why"), end + 16, quiet=True)
        other = () if folder is None else (("keys.ctrl_o", "keys.choose_folder"), ("keys.delete", "keys.share_no_more"))
        draw_foot(self.context, surface, key_hints(*other, ("keys.escape", "keys.back")), self._next_words())
        return True

    def _next_words(self) -> str:
        if self._strangers:
            return say("keys.all_mine")
        return say("keys.choose_folder") if self.context.session.sharing.folder is None else back_words()


def _told(folder: Path | None) -> str:
    """How things stand: one that is on a disk or a network that is away now is said."""
    if folder is None:
        return say("sharing.none")
    if not folder.is_dir():
        return as_sentence(say("share.no_folder", folder=folder))
    return say("sharing.through", folder=folder)
