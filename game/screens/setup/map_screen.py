"""The map on screen: every home on the neck, named. A click or a played note moves a home to another place."""

import msgspec
import pygame

from game.desk import pencil
from game.desk.neck_drawing import NeckDrawing
from game.desk.paper import draw_heading, draw_paragraph, draw_text
from game.desk.typography import Face, rendered
from game.errors import HomefretError
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.neck.neck_map import Home, NeckMap, Reach, roman
from game.neck.tuning import Place
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Route, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say

_RING_SHARE = 0.8


class MapScreen(BaseScreen):
    """The player's map."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._explanation = say("map.explain")
        # The note played last and the homes chosen before it, in case it turns out to be none.
        self._lately: tuple[PlayedNote, dict[int, tuple[int, int]]] | None = None

    @property
    def _map(self) -> NeckMap:
        return self.context.settings.neck_map()

    @property
    def _neck(self) -> NeckDrawing:
        sheet = self.context.sheet
        area = sheet.text_area
        room = pygame.Rect(area.left, area.top + sheet.px(150), area.width, sheet.px(290))
        return NeckDrawing(room=room, neck_map=self._map, left_handed=self.context.settings.left_handed)

    def on_click(self, at: tuple[int, int]) -> Route | None:
        place = self._neck.place_at(at)
        if place is not None:
            self.context.devices.sound.pluck(self._map.tuning.sounding(place))
            self._move_home(place)
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_ESCAPE, pygame.K_RETURN):
            return ToShelf()
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change_position(1 if event.key == pygame.K_RIGHT else -1)
        elif event.key == pygame.K_BACKSPACE:
            self._settle(choices={})
            self._explanation = say("map.cleared")
        return None

    def on_note(self, event: NoteStarted) -> Route | None:
        if event.note.place is not None:
            self._lately = event.note, self.context.settings.choices
            self._move_home(event.note.place)
        return None

    def on_revised(self, event: NoteRevised) -> None:
        """A home moved by what nobody played is moved back; one that was slid to lies where the slide came to."""
        if self._lately is None or self._lately[0] != event.before:
            return
        _, before = self._lately
        self._lately = None
        self._settle(choices=before)
        if event.after is not None and event.after.place is not None:
            self._move_home(event.after.place)

    def _move_home(self, place: Place) -> None:
        moved = self._map.with_choice(place)
        self._settle(choices={sounding: (at.string, at.fret) for sounding, at in moved.choices.items()})
        sounding = moved.tuning.sounding(place)
        written = _written_name(sounding, moved, self.context)
        self._explanation = say("map.moved", written=written, string=place.string, fret=place.fret)

    def _change_position(self, by: int) -> None:
        """Another position; homes chosen by hand belonged to the old one."""
        try:
            self._settle(position=self.context.settings.position + by, choices={})
            self._explanation = say("map.explain")
        except HomefretError as error:
            self.context.say_error(error)

    def _settle(self, **changes: object) -> None:
        settings = msgspec.structs.replace(self.context.settings, **changes)
        settings.neck_map()
        self.context.change_settings(settings)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, say("map.title"))
        neck_map = self._map
        stretches = sum(home.stretch for home in neck_map.homes)
        line = say("map.position", position=roman(neck_map.position), count=len(neck_map.homes), stretches=stretches)
        draw_text(surface, line, (area.left, area.top + sheet.px(52)), Face.ITALIC, sheet.text_px, theme.faded)
        neck = self._neck
        neck.draw(surface, theme)
        for home in neck_map.homes:
            self._draw_home(surface, neck, home)
        room = pygame.Rect(area.left, area.top + sheet.px(490), area.width, sheet.px(90))
        draw_paragraph(surface, self._explanation, room, Face.TEXT, sheet.text_px, theme.ink)
        keys = (("keys.arrows", "keys.position"), ("keys.backspace", "map.plain"), ("keys.escape", "keys.shelf"))
        draw_keys(self.context, surface, key_hints(*keys))
        return True

    def _draw_home(self, surface: pygame.Surface, neck: NeckDrawing, home: Home) -> None:
        """A ring with the note's name; a stretch is drawn lightly, an outlying home underlined."""
        if home.place.fret > neck.last_fret:
            return
        theme = self.context.theme
        centre = neck.centre_of(home.place)
        diameter = neck.room.height / neck.strings * _RING_SHARE
        pygame.draw.circle(surface, theme.paper, centre, diameter / 2)
        colour = theme.pencil if home.reach is Reach.STRETCH else theme.ink
        circle = pencil.ring(diameter, max(1.2, diameter * 0.05), colour, seed=home.sounding)
        surface.blit(circle, circle.get_rect(center=centre))
        name = rendered(
            _written_name(home.sounding, neck.neck_map, self.context), Face.TEXT, round(diameter * 0.5), colour
        )
        surface.blit(name, name.get_rect(center=centre))
        if home.reach is Reach.OUTLYING:
            stroke = pencil.line(diameter * 0.5, 2, theme.accent, seed=home.sounding)
            surface.blit(stroke, stroke.get_rect(center=(centre[0], centre[1] + diameter * 0.3)))


def _written_name(sounding: int, neck_map: NeckMap, context: ScreenContext) -> str:
    written = spelled(sounding + 12 * neck_map.reading.octaves_down, Key(0))
    return name_in(spelling_of(written), context.settings.note_names)
