"""Who plays on this computer: arrows choose, Enter changes to them at once, N begins the name of a new player, R
another name of the chosen one.
"""

import pygame

from game.desk.paper import (
    draw_choice_mark,
    draw_heading,
    draw_paragraph,
    draw_text,
    draw_text_right,
)
from game.desk.typography import Face, shortened
from game.errors import HomefretError
from game.player.players_file import LONGEST_NAME
from game.player.profiles import Profile, players
from game.player.renaming import rename_player
from game.player.seat import add_player_here, remember_player, switch_player
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToDamage, ToShelf
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say
from game.text.language import choose_language

_ROW_UNITS = 44


class PlayersScreen(BaseScreen):
    """The players, one a line. Raises `PlayerError` where their table cannot be read."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._players = players()
        self._chosen = next((row for row, player in enumerate(self._players) if self._plays(player)), 0)
        self._typed: str | None = None
        self._renames = False

    def _plays(self, player: Profile) -> bool:
        return player.folder == self.context.session.folder

    def on_wheel(self, up: int) -> Route | None:
        self._move(-up)
        return None

    @property
    def typing(self) -> bool:
        """While a name is typed."""
        return self._typed is not None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self._typed is not None:
            self._type(event, self._typed)
            return None
        return self._command(event.key)

    def _command(self, key: int) -> Route | None:
        if key == pygame.K_ESCAPE:
            return Back()
        if key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._change()
        if key in (pygame.K_UP, pygame.K_DOWN):
            self._move(1 if key == pygame.K_DOWN else -1)
        elif key == pygame.K_n:
            self._typed, self._renames = "", False
        elif key == pygame.K_r:
            self._typed, self._renames = self._players[self._chosen].name, True
        return None

    def _type(self, event: pygame.event.Event, typed: str) -> None:
        """A key while a name is typed: Enter adds or renames the player, Esc leaves it."""
        if event.key == pygame.K_ESCAPE:
            self._typed = None
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            self._give_name(typed)
        elif event.key == pygame.K_BACKSPACE:
            self._typed = typed[:-1]
        elif event.unicode and event.unicode.isprintable() and len(typed) < LONGEST_NAME:
            self._typed = typed + event.unicode

    def _give_name(self, name: str) -> None:
        """A name that will not do stays, to be mended."""
        try:
            named = self._rename(name) if self._renames else add_player_here(self.context.session, name)
            self._players = players()
        except HomefretError as error:
            self.context.say_error(error)
            return
        self._typed, self._chosen = None, self._players.index(named)
        self.context.say(say("players.renamed" if self._renames else "players.added", name=named.name))

    def _rename(self, name: str) -> Profile:
        session, player = self.context.session, self._players[self._chosen]
        renamed = rename_player(player, name, session.now)
        if self._plays(player):
            session.profile = renamed
        return renamed

    def _change(self) -> Route | None:
        """The chosen player takes the seat."""
        player = self._players[self._chosen]
        if not self._plays(player):
            self.context.say(say("players.changed", name=_name(player)))
            try:
                self._take_seat(player)
            except HomefretError as error:
                self.context.say_error(error)
                return None
        return ToDamage() if self.context.session.log.damage else ToShelf()

    def _take_seat(self, player: Profile) -> None:
        """The chosen player plays from now on, at this desk and its devices, and at the next start too."""
        session = self.context.session = switch_player(self.context.session, player)
        choose_language(session.settings.language)
        sound = self.context.devices.sound
        sound.set_volumes(session.settings.volumes)
        sound.make_ready(tuple(session.settings.neck_map().places))
        if session.settings_trouble:
            self.context.say_error(session.settings_trouble)
        try:
            remember_player(session)
        except HomefretError as error:
            self.context.say_error(error)

    def _move(self, by: int) -> None:
        self._chosen = max(0, min(len(self._players) - 1, self._chosen + by))

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a player; a click on the chosen one changes to them."""
        row = self._first_shown + (at[1] - self._top) // self._row_height
        if self._typed is not None or at[1] < self._top or row >= len(self._shown) + self._first_shown:
            return None
        if row == self._chosen:
            return self._change()
        self._chosen = row
        return None

    @property
    def _top(self) -> int:
        return self.context.sheet.text_area.top + self.context.sheet.px(96)

    @property
    def _row_height(self) -> int:
        return self.context.sheet.px(_ROW_UNITS)

    @property
    def _rows_shown(self) -> int:
        return max(1, (self.context.sheet.paper.bottom - self.context.sheet.px(160) - self._top) // self._row_height)

    @property
    def _first_shown(self) -> int:
        return first_in_sight(chosen=self._chosen, shown=self._rows_shown, count=len(self._players))

    @property
    def _shown(self) -> tuple[Profile, ...]:
        return self._players[self._first_shown : self._first_shown + self._rows_shown]

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        draw_heading(surface, sheet, theme, say("players.title"), below=say("players.explain"))
        for row, player in enumerate(self._shown, start=self._first_shown):
            self._draw_row(surface, row, player)
        if self._typed is not None:
            at = sheet.paper.bottom - sheet.px(134)
            room = pygame.Rect(sheet.text_area.left, at, sheet.text_area.width, sheet.px(52))
            typed = say("players.new_name" if self._renames else "players.new", name=f"{self._typed}…")
            draw_paragraph(surface, typed, room, Face.TEXT, sheet.text_px, theme.ink)
        draw_keys(self.context, surface, self._keys())
        return True

    def _draw_row(self, surface: pygame.Surface, row: int, player: Profile) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area, y = sheet.text_area, self._top + (row - self._first_shown) * self._row_height
        if row == self._chosen:
            draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)
        name = shortened(_name(player), Face.TEXT if player.name else Face.ITALIC, sheet.text_px, area.width * 2 // 3)
        face = Face.TEXT if player.name else Face.ITALIC
        draw_text(surface, name, (area.left + sheet.px(36), y), face, sheet.text_px, theme.ink)
        if self._plays(player):
            at = (area.right, y + round(sheet.text_px * 0.22))
            draw_text_right(surface, say("players.here"), at, Face.ITALIC, sheet.small_px, theme.faded)

    def _keys(self) -> tuple[KeyHint, ...]:
        if self._typed is not None:
            done = "keys.rename_player" if self._renames else "keys.add_player"
            return key_hints(("keys.enter", done), ("keys.escape", "keys.back"))
        own = [("N", "keys.new_player"), ("R", "keys.rename_player"), ("keys.escape", "keys.back")]
        if len(self._players) > 1:
            own = [("keys.updown", "keys.choose"), ("keys.enter", "keys.play_as"), *own]
        return key_hints(*own)


def _name(player: Profile) -> str:
    return player.name or say("players.first")
