"""Progress: neck and staff by how quickly each note is found, days with first sight, pace and minutes, in words."""

import pygame

from game.desk import pencil
from game.desk.neck_drawing import NeckDrawing
from game.desk.paper import draw_heading, draw_paragraph
from game.desk.shading import shade_of, shaded
from game.desk.staff_drawing import draw_staff
from game.desk.theme import Colour
from game.desk.typography import Face, rendered
from game.errors import LogError
from game.music.names import NoteNames, name_in, spelling_of
from game.music.pitch import pitch
from game.neck.tuning import Place
from game.report.student import WEEK
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.progress.days_drawing import DaysDrawing
from game.screens.progress.progress_figures import Progress, is_slow, progress_of
from game.screens.progress.progress_words import progress_in_words
from game.screens.routes import Route, ToBook, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say

_DARK = 0.5
"""On shades darker than this the name of a note is set in the colour of paper."""


class ProgressScreen(BaseScreen):
    """What the practice came to. Where much has to be added up first, it says so before it does."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.progress = Progress()
        self._waits = self._said = False
        try:
            self._waits = is_slow(context.session)
            if not self._waits:
                self._add_up()
        except LogError as error:
            context.say_error(error)

    def _add_up(self) -> None:
        self.progress = progress_of(self.context.session)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_b:
            return ToBook()
        return ToShelf() if event.key in (pygame.K_ESCAPE, pygame.K_RETURN) else None

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        if self._waits and self._said:
            self._waits = False
            try:
                self._add_up()
            except LogError as error:
                self.context.say_error(error)
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, say("progress.title"), below=self._in_short())
        if self.progress.days:
            self._draw_neck(surface, pygame.Rect(area.left, area.top + sheet.px(112), area.width, sheet.px(150)))
            self._draw_staff(surface, pygame.Rect(area.left, area.top + sheet.px(270), area.width, sheet.px(104)))
            top = area.top + sheet.px(386)
            half = (area.width - sheet.px(50)) // 2
            room = pygame.Rect(area.left, top, half, sheet.paper.bottom - sheet.px(72) - top)
            DaysDrawing(days=self.progress.days, sheet=sheet, theme=theme).draw(surface, room)
            self._draw_words(surface, pygame.Rect(area.left + half + sheet.px(50), top, half, room.height))
        draw_keys(self.context, surface, key_hints(("B", "keys.book"), ("keys.escape", "keys.shelf")))
        self._said = True
        return True

    def _in_short(self) -> str:
        days = self.progress.days
        if self._waits:
            return say("progress.adding_up")
        if not days:
            return say("progress.nothing")
        week = [day for day in days if (days[-1].day - day.day).days < WEEK]
        minutes = round(sum(day.minutes for day in week))
        return say("progress.week", days=len(week), minutes=minutes)

    def _draw_neck(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        """The homes that were read: the darker the quicker, the slowest ringed."""
        settings, theme = self.context.settings, self.context.theme
        neck = NeckDrawing(room=room, neck_map=settings.neck_map(), left_handed=settings.left_handed)
        neck.draw(surface, theme)
        slowest = {Place(note.string, note.fret) for note in self.progress.slowest}
        for note in self.progress.notes:
            place = Place(note.string, note.fret)
            if note.fret > neck.last_fret or note.string > neck.strings:
                continue
            centre, diameter, shade = neck.centre_of(place), room.height / neck.strings * 0.86, shade_of(note.find_s)
            pygame.draw.circle(surface, _between(theme.paper, theme.read, shade), centre, diameter / 2)
            ink = theme.paper if shade > _DARK else theme.ink
            name = rendered(_name(note.written, settings.note_names), Face.TEXT, round(diameter * 0.52), ink)
            surface.blit(name, name.get_rect(center=centre))
            if place in slowest:
                ring = pencil.ring(diameter * 1.18, max(1.8, diameter * 0.08), theme.accent, seed=note.fret)
                surface.blit(ring, ring.get_rect(center=centre))

    def _draw_staff(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        """The same notes as they are written."""
        slowest = {note.written for note in self.progress.slowest}
        reading = self.context.settings.neck_map().reading
        draw_staff(surface, room, shaded(self.progress.notes, slowest), self.context.theme, reading=reading)

    def _draw_words(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        for sentence in self.sentences:
            used = draw_paragraph(surface, sentence, room, Face.TEXT, sheet.small_px, theme.ink)
            room = pygame.Rect(room.left, used.bottom + sheet.px(7), room.width, max(0, room.bottom - used.bottom))

    @property
    def sentences(self) -> tuple[str, ...]:
        """What the days brought, in words."""
        return progress_in_words(self.progress, self.context.settings.note_names)


def _name(written: str, names: NoteNames) -> str:
    """A written note without its octave, in the player's own names."""
    return name_in(spelling_of(pitch(written)), names)


def _between(first: Colour, second: Colour, share: float) -> Colour:
    red, green, blue = (round(a + (b - a) * share) for a, b in zip(first, second, strict=True))
    return red, green, blue
