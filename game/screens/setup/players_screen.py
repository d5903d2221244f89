"""Who plays on this computer: arrows choose, Enter changes to them at once, Ins begins the name of a new player, R
another name of the chosen one.
"""

import pygame

from game.desk.kit.canvas import Canvas
from game.errors import HomefretError
from game.player.players_file import LONGEST_NAME
from game.player.profiles import Profile, players
from game.player.renaming import rename_player
from game.player.seat import add_player_here, remember_player, switch_player
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToDamage, ToToday
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.dialog_sheet import (
    LEFT,
    back_words,
    bottom_of,
    draw_foot,
    draw_row,
    draw_running,
    lay_dialog,
    width_of,
)
from game.text.catalogue import say
from game.text.language import choose_language

_ROW, _TOP, _ABOVE, _TYPED = 46.0, 204.0, 32.0, 66.0


class PlayersScreen(BaseScreen):
    """The players, one a line. Raises `PlayerError` where their table cannot be read."""

    free_string_commands = True

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
        elif key == pygame.K_INSERT:
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
        if self._plays(player):
            return Back()
        self.context.say(say("players.changed", name=_name(player)))
        try:
            self._take_seat(player)
        except HomefretError as error:
            self.context.say_error(error)
            return None
        return ToDamage() if self.context.session.log.damage else ToToday()

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
        y = at[1] / self.context.sheet.unit - (_TOP - _ABOVE)
        row = self._first_shown + int(y // _ROW)
        if self._typed is not None or y < 0 or row >= len(self._shown) + self._first_shown:
            return None
        if row == self._chosen:
            return self._change()
        self._chosen = row
        return None

    @property
    def _rows_shown(self) -> int:
        sheet = self.context.sheet
        nowhere = Canvas(pygame.Surface((1, 1)), sheet, self.context.theme)
        return max(1, int((bottom_of(nowhere) - _TYPED - _TOP) / _ROW) + 1)

    @property
    def _first_shown(self) -> int:
        return first_in_sight(chosen=self._chosen, shown=self._rows_shown, count=len(self._players))

    @property
    def _shown(self) -> tuple[Profile, ...]:
        return self._players[self._first_shown : self._first_shown + self._rows_shown]

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, _ = lay_dialog(self.context, surface, say("players.title"), say("players.explain"))
        for row, player in enumerate(self._shown, start=self._first_shown):
            here = say("players.here") if self._plays(player) else ""
            baseline = _TOP + (row - self._first_shown) * _ROW
            room = draw_row(canvas, baseline, _name(player), right=here, chosen=row == self._chosen)
            if row == self._chosen:
                self.context.window.follow(room)
        if self._typed is not None:
            self.context.window.follow(canvas.rect(LEFT, bottom_of(canvas) - 60, width_of(canvas), 60))
            typed = say("players.new_name" if self._renames else "players.new", name=f"{self._typed}…")
            draw_running(canvas, typed, bottom_of(canvas) - 20)
        draw_foot(self.context, surface, self._keys(), self._next_words())
        return True

    def _next_words(self) -> str:
        if self._typed is not None:
            return say("keys.rename_player" if self._renames else "keys.add_player")
        player = self._players[self._chosen]
        return back_words() if self._plays(player) else say("players.take_seat", name=_name(player))

    def _keys(self) -> tuple[KeyHint, ...]:
        if self._typed is not None:
            return key_hints(("keys.escape", "keys.back"))
        own = [("keys.insert", "keys.new_player"), ("R", "keys.rename_player"), ("keys.escape", "keys.back")]
        return key_hints(*([("keys.updown", "keys.choose")] if len(self._players) > 1 else []), *own)


def _name(player: Profile) -> str:
    return player.name or say("players.first")
