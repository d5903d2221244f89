"""The map on screen. Whatever is clicked, played or gone to is shown: a written note, its home, and every other place
of it. What changes the map is asked first, and taken back and done again as often as wished.
"""

from collections.abc import Callable
from typing import Final

import pygame

from game.errors import HomefretError
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.neck.neck_map import NeckMap
from game.player.settings import Settings
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.routes import Back, Route, ToMapByPlaying, ToMaps, ToToday
from game.screens.setup.best_positions import BestPositions, best_positions
from game.screens.setup.map_changes import MapChange, MapChanges
from game.screens.setup.map_choice import LookedAt, look_at_pitch, look_at_place, next_other, next_pitch
from game.screens.setup.map_uses import keep_change, to_position
from game.screens.setup.map_view import MapView
from game.screens.setup.printed_chart import ChartPrinting
from game.screens.setup.shown_map import ShownMap
from game.screens.tabbed_sheet import SheetTab
from game.text.catalogue import say

_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)
_TOOLS = (pygame.K_1, pygame.K_2, pygame.K_3, pygame.K_4)
_LEADS: Final[dict[int, Route]] = {pygame.K_5: ToMaps(), pygame.K_6: ToMapByPlaying()}


class MapScreen(BaseScreen):
    """The player's map: looked at note by note, or as a whole, with what changes all of it."""

    tab = SheetTab.MAP
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.shown = ShownMap(context)
        # The note played last and what was looked at before it, in case it turns out to be none.
        self._lately: tuple[PlayedNote, LookedAt | None] | None = None
        self._printing = ChartPrinting()

    @property
    def part(self) -> str:
        return "best" if self.shown.best is not None and self.shown.asked is None else "map"

    @property
    def _map(self) -> NeckMap:
        return self.shown.neck_map

    @property
    def _changes(self) -> MapChanges:
        return MapChanges(self.context.settings, self.shown.shelf)

    def read_anew(self) -> None:
        self.shown.read_anew()
        super().read_anew()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if self.shown.asked is not None:
            self._answer(event.key)
        elif self.shown.best is not None:
            self._on_key_of_best(self.shown.best, event.key)
        elif event.key == pygame.K_ESCAPE:
            if self.shown.looked is None:
                return Back()
            self.shown.looked = None
        elif event.key in _ENTER:
            if self.shown.looked is None or self.shown.looked.other is None:
                return ToToday()
            self._ask_to_move()
        elif self.shown.looked is None and event.key in _LEADS:
            return _LEADS[event.key]
        else:
            self._on_key_of_map(event.key)
        return None

    def _on_key_of_map(self, key: int) -> None:
        if key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._go_to(self._map.position + (1 if key == pygame.K_RIGHT else -1))
        elif key in (pygame.K_UP, pygame.K_DOWN):
            self._look_at(next_pitch(self._map, self.shown.looked, 1 if key == pygame.K_UP else -1))
        elif key == pygame.K_F12:
            self.shown.more = not self.shown.more
        elif key == pygame.K_TAB and self.shown.looked is not None:
            self.shown.looked = next_other(self._map, self.shown.looked)
        elif self.shown.looked is None and key in _TOOLS:
            self._on_tool(key)
        else:
            self._on_key_of_changes(key)

    def _on_key_of_best(self, best: BestPositions, key: int) -> None:
        if key in _ENTER:
            self._ask(lambda: self._changes.to_best(best.best))
        elif key in (pygame.K_UP, pygame.K_DOWN):
            best.choose(1 if key == pygame.K_DOWN else -1)
        elif key == pygame.K_ESCAPE:
            self.shown.best = None

    def _on_tool(self, key: int) -> None:
        """What concerns all of the map, while no note is looked at."""
        if key == pygame.K_1:
            self.shown.best = best_positions(self._map, self.shown.shelf.counts)
        elif key == pygame.K_2:
            self._ask(self._changes.stretches)
        elif key == pygame.K_3:
            self._ask(self._changes.open_strings)
        elif self._printing.begin(self._map, self.context.settings):
            self.context.say(say("map.printing"))

    def _on_key_of_changes(self, key: int) -> None:
        history, settings = self.context.session.map_history, self.context.settings
        if key == pygame.K_DELETE:
            self._ask(self._changes.plain)
        elif key == pygame.K_BACKSPACE and history.can_take_back(settings):
            self._settle(history.taken_back(settings))
        elif key == pygame.K_y and history.can_do_again(settings):
            self._settle(history.done_again(settings))

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - the chart is there when it is there
        told = self._printing.told()
        if told:
            self.context.say(told)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A note or a place is shown, a position gone to. While something is asked nothing else is."""
        unit = self.context.sheet.unit
        point = at[0] / unit, at[1] / unit
        if self.shown.asked is not None:
            return None
        if self.shown.best is not None:
            row = self.shown.best.row_at(point, self.shown.foot)
            self.shown.best.chosen = self.shown.best.chosen if row is None else row
            return None
        sheet = self.shown.sheet(self.shown.foot)
        place, sounding = sheet.place_at(point), sheet.pitch_at(point, self.shown.heads)
        if place is not None:
            self._look_at(look_at_place(self._map, place))
        elif sounding is not None:
            self._look_at(look_at_pitch(sounding))
        elif (position := sheet.position_at(point)) is not None:
            self._go_to(position)
        return None

    def on_wheel(self, up: int) -> Route | None:
        if self.shown.best is not None and self.shown.asked is None:
            self.shown.best.choose(-up)
        elif self.shown.asked is None:
            self._look_at(next_pitch(self._map, self.shown.looked, up))
        return None

    def on_note(self, event: NoteStarted) -> Route | None:
        """What is played is shown. It sounds already."""
        if self.shown.asked is None and self.shown.best is None:
            self._lately = event.note, self.shown.looked
            self._show(event.note)
        return None

    def on_revised(self, event: NoteRevised) -> None:
        """What nobody played is not shown any more; what was slid to is."""
        if self._lately is None or self._lately[0] != event.before:
            return
        _, self.shown.looked = self._lately
        self._lately = None
        if event.after is not None:
            self._show(event.after)

    def _show(self, note: PlayedNote) -> None:
        if note.place is not None:
            self.shown.looked = look_at_place(self._map, note.place)
        else:
            self.shown.looked = look_at_pitch(note.sounding)

    def _look_at(self, looked: LookedAt) -> None:
        """Show a note and let it be heard."""
        self.shown.looked = looked
        self.context.devices.sound.pluck(looked.sounding)

    def _go_to(self, position: int) -> None:
        """Another position: the map that is kept there, if there is one. It is only asked first where homes that were
        chosen by hand would be lost.
        """
        if position == self.context.settings.position:
            return
        self._ask(lambda: to_position(self.context, self._changes, position))
        if self.shown.asked is None:
            return
        if not (self._changes.chosen_by_hand and self.context.session.maps.loses_current):
            self._answer(pygame.K_RETURN)

    def _ask_to_move(self) -> None:
        place = self.shown.looked.other if self.shown.looked else None
        if place is not None:
            self._ask(lambda: self._changes.move(place, self.context.settings.note_names))

    def _ask(self, change: Callable[[], MapChange | None]) -> None:
        """Ask for a change, or say why the neck has no room for it."""
        try:
            self.shown.asked = change()
        except HomefretError as error:
            self.context.say_error(error)

    def _answer(self, key: int) -> None:
        """Enter is yes; Esc, and taking back, no."""
        change = self.shown.asked
        if key in _ENTER and change is not None:
            self.shown.best = None
            self._keep(change)
        if key in (*_ENTER, pygame.K_ESCAPE, pygame.K_BACKSPACE):
            self.shown.asked = None

    def _keep(self, change: MapChange) -> None:
        before = self.context.settings
        keep_change(self.context, change)
        self.context.session.map_history.keep(before, self.context.settings)
        self._settled(before)

    def _settle(self, settings: Settings) -> None:
        before = self.context.settings
        self.context.change_settings(settings)
        self._settled(before)

    def _settled(self, before: Settings) -> None:
        """The map is another than `before`. What was looked at is looked at in it."""
        self.shown.settled_before = before
        if self.shown.looked is not None:
            self.shown.looked = look_at_pitch(self.shown.looked.sounding)

    def draw(self, surface: pygame.Surface) -> bool:
        self.shown.foot, self.shown.heads = MapView(self.context, self.shown).draw(surface)
        return True
