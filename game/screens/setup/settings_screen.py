"""What the player can settle, one line each; arrows choose and change, everything is kept at once."""

import pygame

from game.desk.paper import (
    draw_choice_mark,
    draw_heading,
    draw_paragraph,
    draw_text,
    draw_text_right,
)
from game.desk.typography import Face
from game.errors import HomefretError
from game.player.setting_options import ChangedOn, Group
from game.player.settings import OPTIONS
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Route, ToPlayers, ToSharing, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say, tell
from game.text.language import choose_language

# Groups one after the other, and in each the settings as they are declared.
_ROWS = tuple(
    option
    for group in Group
    for option in OPTIONS.values()
    if option.group is group and option.shown.on is ChangedOn.SETTINGS
)
_GAP_ROWS = 0.5


class SettingsScreen(BaseScreen):
    """The list of settings."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._chosen = 0

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_ESCAPE, pygame.K_RETURN):
            return ToShelf()
        if event.key == pygame.K_p:
            return ToPlayers()
        if event.key == pygame.K_f:
            return ToSharing()
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._chosen = (self._chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(_ROWS)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change(1 if event.key == pygame.K_RIGHT else -1)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a line; a click on the chosen one changes it."""
        for row in range(len(_ROWS)):
            if 0 <= at[1] - self._y_of(row) < self._row_height:
                if row == self._chosen:
                    self._change(1)
                self._chosen = row
        return None

    def _change(self, by: int) -> None:
        option = _ROWS[self._chosen]
        value = option.stepped(getattr(self.context.settings, option.name), by)
        try:
            settings = self.context.settings.changed(option.name, value)
        except HomefretError as error:
            self.context.say_error(error)
        else:
            self.context.change_settings(settings)
            self._take_effect(option.name)

    def _take_effect(self, name: str) -> None:
        """What does not read its setting anew by itself."""
        if name == "language":
            choose_language(self.context.settings.language)
        if name == "volume":
            self.context.devices.sound.set_volume(self.context.settings.volume)

    @property
    def _top(self) -> int:
        return self.context.sheet.text_area.top + self.context.sheet.px(66)

    @property
    def _row_height(self) -> int:
        """A line each and a gap between groups, all of them above the explanation at the foot."""
        sheet = self.context.sheet
        rows = len(_ROWS) + _GAP_ROWS * (len(Group) - 1)
        return min(sheet.px(30), int((sheet.paper.bottom - sheet.px(136) - self._top) / rows))

    def _y_of(self, row: int) -> int:
        """The top of a line."""
        gaps = list(Group).index(_ROWS[row].group)
        return self._top + round((row + gaps * _GAP_ROWS) * self._row_height)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        draw_heading(surface, sheet, theme, say("settings.title"))
        for row in range(len(_ROWS)):
            self._draw_row(surface, row)
        self._draw_foot(surface)
        return True

    def _draw_row(self, surface: pygame.Surface, row: int) -> None:
        """What is settled and how; the first of a group has its name in the margin."""
        sheet, theme = self.context.sheet, self.context.theme
        option, y, left = _ROWS[row], self._y_of(row), sheet.text_area.left + sheet.px(34)
        draw_text(surface, tell(option.name_words), (left, y), Face.ITALIC, sheet.small_px, theme.faded)
        value = tell(option.value_words(getattr(self.context.settings, option.name)))
        draw_text(surface, value, (left + sheet.px(290), y), Face.TEXT, sheet.small_px, theme.ink)
        if row == 0 or _ROWS[row - 1].group is not option.group:
            group = say(f"settings.group.{option.group.value}")
            draw_text_right(surface, group, (sheet.text_area.right, y), Face.TITLE, sheet.small_px, theme.faded)
        if row == self._chosen:
            draw_choice_mark(surface, sheet, theme, y + sheet.small_px * 0.65)

    def _draw_foot(self, surface: pygame.Surface) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area, option = sheet.text_area, _ROWS[self._chosen]
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(122), area.width, sheet.px(26))
        draw_paragraph(surface, tell(option.explanation), room, Face.TEXT, sheet.small_px, theme.ink)
        # The advice on listening is that of WHO-ITU H.870.
        advice = say("care.listening" if option.name == "volume" else "care.hands")
        draw_paragraph(surface, advice, room.move(0, sheet.px(26)), Face.ITALIC, sheet.small_px, theme.faded)
        keys = key_hints(
            ("keys.updown", "keys.choose"),
            ("keys.arrows", "keys.change"),
            ("P", "keys.players"),
            ("F", "keys.shared_folder"),
            ("keys.escape", "keys.shelf"),
        )
        draw_keys(self.context, surface, keys)
