"""What the player can settle, in three groups: arrows and clicks choose and change, everything is kept at once."""

import pygame

from game.desk.kit.canvas import Canvas
from game.errors import HomefretError
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToToday
from game.screens.setup.setting_rows import GROUPS, SettingRow, rows_of
from game.screens.setup.settings_sheet import RowText, SettingsSheet
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet
from game.text.catalogue import say
from game.text.language import choose_language

_TO_CORNER = 24.0


class SettingsScreen(BaseScreen):
    """The settings. A row that is no setting leads on to a sheet of its own."""

    tab = SheetTab.SETTINGS
    free_string_commands = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._group = 0
        self._chosen = 0
        # Whether a value was changed last, and not a row chosen: a row may be wider than what is seen of it.
        self._changes = False

    @property
    def _rows(self) -> tuple[SettingRow, ...]:
        return rows_of(GROUPS[self._group])

    @property
    def _row(self) -> SettingRow:
        return self._rows[self._chosen]

    @property
    def _sheet(self) -> SettingsSheet:
        """Where things stand, to find what a click means."""
        nowhere = Canvas(pygame.Surface((1, 1)), self.context.sheet, self.context.theme)
        return SettingsSheet(nowhere, len(self._rows), self._chosen)

    def handle(self, event: pygame.event.Event) -> Route | None:
        self._changes = False
        return super().handle(event)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._row.route or ToToday()
        if event.key == pygame.K_TAB:
            self._choose_group(self._group + 1)
        elif event.key in (pygame.K_UP, pygame.K_DOWN):
            self._chosen = (self._chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self._rows)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            return self._step(1 if event.key == pygame.K_RIGHT else -1)
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._chosen = min(max(self._chosen - up, 0), len(self._rows) - 1)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a group or a row, or goes on to rows out of sight; left or right of a value it changes it."""
        sheet = self._sheet
        for group in range(len(GROUPS)):
            if sheet.group_rect(group).collidepoint(at):
                self._choose_group(group)
        above, below = sheet.more_rects
        if above.collidepoint(at):
            self._chosen = max(0, sheet.in_sight[0] - 1)
        elif below.collidepoint(at):
            self._chosen = min(len(self._rows) - 1, sheet.in_sight[-1] + 1)
        for row in sheet.in_sight:
            if sheet.row_rect(row).collidepoint(at):
                step = sheet.step_at(self._text(self._rows[row]), at[0])
                self._chosen = row
                return self._step(step) if step else None
        return None

    def _choose_group(self, group: int) -> None:
        self._group, self._chosen = group % len(GROUPS), 0

    def _step(self, by: int) -> Route | None:
        """Change the chosen row; one that leads on leads on to the right."""
        self._changes = True
        option = self._row.option
        if option is None:
            return self._row.route if by > 0 else None
        value = option.stepped(getattr(self.context.settings, option.name), by)
        try:
            settings = self.context.settings.changed(option.name, value)
        except HomefretError as error:
            self.context.say_error(error)
        else:
            self.context.change_settings(settings)
            self._take_effect(option.name)
        return None

    def _take_effect(self, name: str) -> None:
        """What does not read its setting anew by itself."""
        if name == "language":
            choose_language(self.context.settings.language)

    def _text(self, row: SettingRow) -> RowText:
        return RowText(name=row.words, value=row.value(self.context), why=row.why, leads=row.option is None)

    def draw(self, surface: pygame.Surface) -> bool:
        canvas = lay_sheet(self.context, surface, SheetTab.SETTINGS)
        sheet, rows = SettingsSheet(canvas, len(self._rows), self._chosen), self._rows
        sheet.draw_title(say("settings.title"))
        self._draw_groups(sheet)
        for row in sheet.in_sight:
            sheet.draw_row(row, self._text(rows[row]))
        self._draw_more(sheet)
        self.context.window.say_below(self._row.why)
        self.context.window.follow(sheet.followed(self._text(self._row), changes=self._changes))
        # The advice on listening is that of WHO-ITU H.870.
        sheet.draw_advice(say("care.listening" if self._row.name.endswith("volume") else "settings.at_once"))
        corner = draw_next(self.context, surface, _capital(self._row.words) if self._row.route else say("corner.today"))
        keys = key_hints(
            ("keys.updown", "keys.choose"),
            ("keys.arrows", "keys.change"),
            ("keys.tab", "keys.group"),
            ("keys.escape", "keys.today"),
        )
        draw_keys(self.context, surface, keys, most_rows=2, right=corner.left / canvas.sheet.unit - _TO_CORNER)
        return True

    def _draw_groups(self, sheet: SettingsSheet) -> None:
        for number, group in enumerate(GROUPS):
            words = say(f"settings.group.{group.value}"), say(f"settings.group.{group.value}.holds")
            sheet.draw_group(number, words, chosen=number == self._group)

    def _draw_more(self, sheet: SettingsSheet) -> None:
        """Say how many rows are out of sight."""
        above, below = sheet.first_shown, len(self._rows) - 1 - sheet.in_sight[-1]
        sheet.draw_more(
            say("settings.more_above", count=above) if above else "",
            say("settings.more_below", count=below) if below else "",
        )


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
