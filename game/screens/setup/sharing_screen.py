"""The folder that a player's computers share: which it is, and how it is chosen."""

from pathlib import Path

import pygame

from game.desk.paper import draw_heading, draw_paragraph
from game.desk.typography import Face
from game.errors import HomefretError
from game.screens.base_screen import BaseScreen
from game.screens.choosing.file_chooser import FOLDER_COMMAND, FileChooser
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import as_sentence, say


class SharingScreen(BaseScreen):
    """Through which folder what is played here is brought together with what is played on the player's other computers.
    It is chosen in the system's own window.
    """

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.chooser = FileChooser(FOLDER_COMMAND)
        self._strangers = context.session.strangers_share

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self._choose()
        elif event.key == pygame.K_BACKSPACE and self.context.session.shared_folder is not None:
            self._share_no_more()
        elif event.key == pygame.K_o and self._strangers:
            self._become_one()
        return None

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - what was chosen comes when it comes
        try:
            for folder in self.chooser.poll() or ():
                self.context.session.share_through(folder)
                self.context.say(say("sharing.chosen", folder=folder))
                self._strangers = self.context.session.strangers_share
        except HomefretError as error:
            self.context.say_error(error)
        return None

    def _choose(self) -> None:
        try:
            self.chooser.open()
        except OSError as error:
            self.context.say(say("shelf.no_chooser", reason=error.strerror or error))

    def _share_no_more(self) -> None:
        """What lies in the folder stays there: other computers may still lack it."""
        try:
            self.context.session.share_through(None)
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
        self._strangers = self.context.session.strangers_share

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, say("sharing.title"))
        folder = self.context.session.shared_folder
        room = pygame.Rect(area.left, area.top + sheet.px(84), area.width, sheet.px(120))
        used = draw_paragraph(surface, _told(folder), room, Face.TEXT, sheet.text_px, theme.ink)
        below = pygame.Rect(area.left, used.bottom + sheet.px(24), area.width, sheet.px(220))
        why = say("sharing.strangers" if self._strangers else "sharing.why")
        draw_paragraph(surface, why, below, Face.ITALIC, sheet.small_px, theme.faded)
        stop = () if folder is None else (("keys.backspace", "keys.share_no_more"),)
        one = (("O", "keys.all_mine"),) if self._strangers else ()
        keys = key_hints(("keys.enter", "keys.choose_folder"), *one, *stop, ("keys.escape", "keys.back"))
        draw_keys(self.context, surface, keys)
        return True


def _told(folder: Path | None) -> str:
    """How things stand: one that is on a disk or a network that is away now is said."""
    if folder is None:
        return say("sharing.none")
    if not folder.is_dir():
        return as_sentence(say("share.no_folder", folder=folder))
    return say("sharing.through", folder=folder)
