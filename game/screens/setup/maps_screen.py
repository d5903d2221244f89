"""The player's maps side by side: one is chosen and used, named, copied, withdrawn, or joined with a second region."""

from typing import Final

import pygame

from game.desk.kit.canvas import Style
from game.desk.kit.fitted_line import fitted
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.typography import Face
from game.errors import HomefretError, MapError
from game.neck.map_figures import figures_of
from game.player.map_facts import LONGEST_MAP_NAME
from game.player.map_names import NamedMap
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToMap, ToNextMap
from game.screens.setup.dialog_sheet import LEFT, bottom_of, draw_foot, lay_dialog, width_of
from game.screens.setup.map_joining import MapJoining, begin_joining
from game.screens.setup.map_uses import use_map
from game.screens.setup.maps_joined_sheet import JoinedSheet
from game.screens.setup.maps_sheet import MapColumn, MapsSheet
from game.screens.setup.shelf_melodies import shelf_melodies
from game.text.catalogue import say

_ABOVE_KEYS: Final = 14.0
_ENTER: Final = (pygame.K_RETURN, pygame.K_KP_ENTER)


class MapsScreen(BaseScreen):
    """Every map there is. `chosen` is one of the `columns`; `typed` a name that is being typed, `asked` whether the
    chosen one is to be withdrawn, `joining` a second region that is looked at.
    """

    at_rest = True
    free_string_commands = True

    def __init__(self, context: ScreenContext, chosen: str = "") -> None:
        super().__init__(context)
        self.typed: str | None = None
        self.asked = False
        self.joining: MapJoining | None = None
        self._look()
        self.chosen = next((number for number, one in enumerate(self.columns) if one.in_use), 0)
        if any(one.named.id == chosen for one in self.columns):
            self._choose(chosen)

    def _look(self) -> None:
        """Count the maps anew, as they are now."""
        session = self.context.session
        maps, current = session.maps.all, session.maps.current.id
        self.columns = tuple(
            MapColumn(
                one,
                session.notes.ink(one.neck_map),
                figures_of(one.neck_map, shelf_melodies(one.neck_map)),
                one.id == current,
            )
            for one in maps
        )

    def read_anew(self) -> None:
        """Maps may have come from another computer, or gone: the chosen one stays it, where it is there still."""
        chosen = self.map.id
        self._look()
        self._choose(chosen)
        self.asked = False
        super().read_anew()

    @property
    def map(self) -> NamedMap:
        """The chosen one."""
        return self.columns[self.chosen].named

    def _choose(self, map_id: str) -> None:
        ids = [one.named.id for one in self.columns]
        self.chosen = ids.index(map_id) if map_id in ids else min(self.chosen, len(ids) - 1)

    @property
    def typing(self) -> bool:
        """While a name is typed."""
        return self.typed is not None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self.typed is not None:
            self._type(event, self.typed)
        elif self.joining is not None:
            self._on_key_of_joining(self.joining, event.key)
        elif self.asked:
            self._answer(event.key)
        elif event.key == pygame.K_ESCAPE:
            return Back()
        elif event.key in _ENTER:
            if self.columns[self.chosen].in_use:
                return ToMap()
            self._use()
        elif event.key == pygame.K_TAB:
            return ToNextMap()
        else:
            self._command(event.key)
        return None

    def _command(self, key: int) -> None:
        if key in (pygame.K_LEFT, pygame.K_RIGHT):
            self.chosen = (self.chosen + (1 if key == pygame.K_RIGHT else -1)) % len(self.columns)
        elif key == pygame.K_r:
            self.typed = self.map.name[:LONGEST_MAP_NAME]
        elif key == pygame.K_INSERT:
            self._copy()
        elif key == pygame.K_x:
            self._join()
        elif key == pygame.K_DELETE and not self.columns[self.chosen].in_use:
            self.asked = True

    def _use(self) -> None:
        """The chosen map from now on."""
        chosen = self.map.id
        use_map(self.context, chosen)
        self._look()
        self._choose(chosen)

    def _type(self, event: pygame.event.Event, typed: str) -> None:
        """A key while a name is typed: Enter gives it, Esc leaves the one there was."""
        if event.key == pygame.K_ESCAPE:
            self.typed = None
        elif event.key in _ENTER:
            self._rename(typed)
        elif event.key == pygame.K_BACKSPACE:
            self.typed = typed[:-1]
        elif event.unicode and event.unicode.isprintable() and len(typed) < LONGEST_MAP_NAME:
            self.typed = typed + event.unicode

    def _rename(self, name: str) -> None:
        """A name that will not do stays, to be mended; the one it was shown by is no new one."""
        chosen = self.map
        if name != chosen.name:
            try:
                chosen = self.context.session.maps.rename(chosen.id, name)
            except HomefretError as error:
                self.context.say_error(error)
                return
        self.typed = None
        self._look()
        self._choose(chosen.id)

    def _copy(self) -> None:
        """The same once more, under a name of its own, to be changed."""
        maps, chosen = self.context.session.maps, self.map
        try:
            copy = maps.keep(self._copy_name(chosen.name), chosen.neck_map)
        except MapError as error:
            self.context.say_error(error)
            return
        self._look()
        self._choose(copy.id)
        self.context.say(say("maps.copied", name=copy.name))

    def _copy_name(self, name: str) -> str:
        taken = {one.named.name.casefold() for one in self.columns}
        number = 1
        while True:
            told = say("maps.copy", name=name, count=number)
            if len(told) > LONGEST_MAP_NAME:
                told = say("maps.copy", name=name[: LONGEST_MAP_NAME - len(told)].rstrip(), count=number)
            if told.casefold() not in taken:
                return told
            number += 1

    def _answer(self, key: int) -> None:
        """Enter withdraws; Esc, and taking back, leave it."""
        if key in _ENTER:
            chosen = self.map
            try:
                self.context.session.maps.withdraw(chosen.id)
                self.context.say(say("maps.withdrawn", name=chosen.name))
            except MapError as error:
                self.context.say_error(error)
            self._look()
            self._choose(chosen.id)
        if key in (*_ENTER, pygame.K_ESCAPE, pygame.K_BACKSPACE):
            self.asked = False

    def _join(self) -> None:
        try:
            self.joining = begin_joining(self.map.neck_map, shelf_melodies(self.map.neck_map))
        except MapError as error:
            self.context.say_error(error)

    def _on_key_of_joining(self, joining: MapJoining, key: int) -> None:
        """Left and right choose the second region, up and down the seam."""
        if key in (pygame.K_LEFT, pygame.K_RIGHT):
            self.joining = joining.to_position(1 if key == pygame.K_RIGHT else -1)
        elif key in (pygame.K_UP, pygame.K_DOWN):
            self.joining = joining.to_seam(1 if key == pygame.K_UP else -1)
        elif key in _ENTER:
            self._keep_joined(joining)
        elif key == pygame.K_ESCAPE:
            self.joining = None

    def _keep_joined(self, joining: MapJoining) -> None:
        """The joined map is one more; that from which it was made stays."""
        try:
            kept = self.context.session.maps.keep("", joining.neck_map)
        except MapError as error:
            self.context.say_error(error)
            return
        self.joining = None
        self._look()
        self._choose(kept.id)
        self.context.say(say("maps.joined", name=kept.name))

    def on_wheel(self, up: int) -> Route | None:
        if self.typed is None and not self.asked and self.joining is None:
            self.chosen = max(0, min(len(self.columns) - 1, self.chosen - up))
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a map."""
        if self.typed is not None or self.asked or self.joining is not None:
            return None
        unit = self.context.sheet.unit
        found = self._sheet(self.context.sheet.size[1] / unit).column_at((at[0] / unit, at[1] / unit))
        self.chosen = self.chosen if found is None else found
        return None

    def _sheet(self, foot: float) -> MapsSheet:
        sheet = self.context.sheet
        return MapsSheet(
            width=sheet.size[0] / sheet.unit,
            foot=foot,
            columns=self.columns,
            chosen=self.chosen,
            left_handed=self.context.settings.left_handed,
            names=self.context.settings.note_names,
        )

    def draw(self, surface: pygame.Surface) -> bool:
        if self.joining is not None:
            self._draw_joining(surface, self.joining)
            return True
        waits = self.typed is not None or self.asked
        canvas, _ = lay_dialog(self.context, surface, say("maps.title"), "" if waits else say("maps.explain"))
        sheet = self._sheet(bottom_of(canvas) - _ABOVE_KEYS)
        self.context.window.follow(sheet.draw(canvas))
        if len(self.columns) == 1:
            left, y, width = sheet.beside
            style = Style(Face.TEXT, 25, canvas.theme.ink)
            for told in (say("maps.one"), say("maps.one.how")):
                y = draw_text_lines(canvas, told, (left, y), style, width) + 16
        if waits:
            told = self._waiting_words()
            words, style = fitted(canvas, told, Style(Face.TEXT, 25, canvas.theme.accent), width_of(canvas))
            canvas.write(words, (LEFT, 132), style)
            self.context.window.follow(canvas.rect(LEFT, 100, width_of(canvas), 50))
            self.context.window.say_below(told, stay=True)
        draw_foot(self.context, surface, self._keys(), self._next_words())
        return True

    def _draw_joining(self, surface: pygame.Surface, joining: MapJoining) -> None:
        canvas, _ = lay_dialog(self.context, surface, say("maps.join.title", name=self.map.name), say("maps.join.how"))
        settings, size = self.context.settings, canvas.sheet.size
        sheet = JoinedSheet(
            width=size[0] / canvas.sheet.unit,
            foot=bottom_of(canvas),
            joining=joining,
            left_handed=settings.left_handed,
            capo=settings.capo_in_use,
        )
        self.context.window.follow(sheet.draw(canvas, settings.note_names))
        keys = key_hints(
            ("keys.arrows", "keys.position"), ("keys.updown", "maps.join.seam"), ("keys.escape", "keys.back")
        )
        draw_foot(self.context, surface, keys, say("maps.join.keep"))

    def _waiting_words(self) -> str:
        if self.typed is not None:
            return say("maps.typed", name=f"{self.typed}…")
        return say("maps.ask_withdraw", name=self.map.name)

    def _next_words(self) -> str:
        if self.typed is not None:
            return say("maps.give_name")
        if self.asked:
            return say("maps.yes_withdraw")
        return say("maps.to_map") if self.columns[self.chosen].in_use else say("maps.use", name=self.map.name)

    def _keys(self) -> tuple[KeyHint, ...]:
        if self.typed is not None or self.asked:
            return key_hints(("keys.escape", "keys.leave_as_is"))
        return key_hints(
            *((("keys.arrows", "keys.choose"),) if len(self.columns) > 1 else ()),
            ("R", "keys.rename_player"),
            ("keys.insert", "maps.a_copy"),
            ("X", "maps.second_region"),
            ("keys.tab", "keys.next_map"),
            *(() if self.columns[self.chosen].in_use else (("keys.delete", "keys.remove"),)),
            ("keys.escape", "keys.back"),
        )
