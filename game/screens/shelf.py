"""The shelf of tunes: what there is to read. The first screen; what is dropped on the window comes to stand here."""

import pygame

from game.desk import pencil
from game.desk.paper import lay_paper, set_block, set_heading, set_keys, set_line, set_line_ending
from game.desk.surroundings import Surroundings
from game.desk.type import Face, fitted, musical
from game.desk.words import as_sentence, say
from game.errors import HomefretError
from game.instrument.played import NoteRevised, NoteStarted
from game.practice.free_note import MOST_PLUCKS, FreeString
from game.screens.destinations import (
    Destination,
    Leave,
    ToFreshLine,
    ToInstruments,
    ToMap,
    ToPage,
    ToSettings,
    open_tune,
)
from game.screens.screen import Still
from game.tunes.library import ShelfEntry, open_entry, shelf

_ROW_UNITS = 44
_LEADS_TO: dict[int, Destination] = {
    pygame.K_ESCAPE: Leave(),
    pygame.K_n: ToFreshLine(),
    pygame.K_m: ToMap(),
    pygame.K_s: ToSettings(),
    pygame.K_i: ToInstruments(),
}


class ShelfScreen(Still):
    """The tunes, one a line."""

    def __init__(self, around: Surroundings) -> None:
        super().__init__(around)
        self._string = FreeString()
        self._entries: tuple[ShelfEntry, ...] = shelf()
        self._newest = around.arrivals.newest
        self._chosen = self._row_of(around.opened or self._newest)
        if around.arrivals.to_choose is not None:
            around.say(around.arrivals.to_choose.question)

    def hear(self, event: NoteStarted) -> Destination | None:
        """Noodling is ignored; the free string chooses."""
        self._string.took(event.note, self.around.settings.neck_map())
        return None

    def revise(self, event: NoteRevised) -> None:
        self._string.revised(event.before, event.after, self.around.settings.neck_map())

    def pressed(self, at_s: float) -> None:
        self._string.pressed(at_s)

    def tick(self, now_s: float) -> Destination | None:
        newest = self.around.arrivals.newest
        if newest is not self._newest:
            self._newest, self._entries = newest, shelf()
            self._chosen = self._row_of(newest)
            if newest is not None and not self.around.arrivals.busy:
                return self._open_dropped()
        return self._commanded(self._string.meant(now_s))

    def _commanded(self, plucks: int) -> Destination | None:
        """The free string plucked once opens the chosen tune, twice goes to the next, three times to the one before."""
        if plucks == 1:
            return self._open()
        if plucks:
            self._move(1 if plucks < MOST_PLUCKS else -1)
        return None

    def _row_of(self, entry: ShelfEntry | None) -> int:
        return self._entries.index(entry) if entry in self._entries else 0

    def handle(self, event: pygame.event.Event) -> Destination | None:
        if event.type == pygame.MOUSEBUTTONDOWN and event.button == 1:
            return self._click(event.pos)
        if event.type == pygame.MOUSEWHEEL:
            self._move(-event.y)
        if event.type == pygame.KEYDOWN:
            return self._command(event)
        return None

    def _command(self, event: pygame.event.Event) -> Destination | None:
        to_choose = self.around.arrivals.to_choose
        if to_choose is not None and event.unicode.isdigit() and 1 <= int(event.unicode) <= len(to_choose.names):
            self.around.say(self.around.arrivals.drop(to_choose.path, int(event.unicode)))
            return None
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._move(1 if event.key == pygame.K_DOWN else -1)
        elif event.key == pygame.K_RETURN:
            return self._open()
        return _LEADS_TO.get(event.key)

    def _move(self, by: int) -> None:
        if self._entries:
            self._chosen = max(0, min(len(self._entries) - 1, self._chosen + by))

    def _click(self, at: tuple[int, int]) -> Destination | None:
        """A click chooses a tune; a click on the chosen one opens it."""
        row = self._first_shown + (at[1] - self._top) // self._row_height
        if not (self._top <= at[1] and self._first_shown <= row < min(len(self._entries), self._end_shown)):
            return None
        if row == self._chosen:
            return self._open()
        self._chosen = row
        return None

    def _open(self) -> Destination | None:
        if not self._entries:
            return None
        self.around.opened = self._entries[self._chosen]
        try:
            score = open_entry(self.around.opened)
            return ToPage(open_tune(score, self.around.settings.neck_map()))
        except HomefretError as error:
            self.around.say_error(error)
        return None

    def _open_dropped(self) -> Destination | None:
        """What was dropped here is opened, and how its octave was settled is said."""
        opened = self._open()
        if isinstance(opened, ToPage):
            score = opened.tune.score
            self.around.say(" ".join((score.octave_reason, *score.warnings[:1])))
        return opened

    @property
    def _top(self) -> int:
        return self.around.sheet.text_area.top + self.around.sheet.px(84)

    @property
    def _row_height(self) -> int:
        return self.around.sheet.px(_ROW_UNITS)

    @property
    def _rows_shown(self) -> int:
        room = self.around.sheet.paper.bottom - self.around.sheet.px(150) - self._top
        return max(1, room // self._row_height)

    @property
    def _first_shown(self) -> int:
        """The first row in sight: the chosen one stays in the middle of a long shelf."""
        most = max(0, len(self._entries) - self._rows_shown)
        return max(0, min(most, self._chosen - self._rows_shown // 2))

    @property
    def _end_shown(self) -> int:
        return self._first_shown + self._rows_shown

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.around.sheet, self.around.theme
        lay_paper(surface, sheet, theme)
        area = sheet.text_area
        set_heading(surface, sheet, theme, say("shelf.title"))
        if not self._entries:
            set_line(surface, say("shelf.empty"), (area.left, self._top), Face.TEXT, sheet.text_px, theme.ink)
        for row, entry in enumerate(self._entries[self._first_shown : self._end_shown], start=self._first_shown):
            self._draw_row(surface, row, entry)
        self._draw_foot(surface)
        return True

    def _draw_row(self, surface: pygame.Surface, row: int, entry: ShelfEntry) -> None:
        sheet, theme = self.around.sheet, self.around.theme
        area = sheet.text_area
        y = self._top + (row - self._first_shown) * self._row_height
        if row == self._chosen:
            stroke = pencil.line(sheet.px(22), max(1.5, sheet.px(3)), theme.accent, seed=8)
            surface.blit(stroke, stroke.get_rect(midleft=(area.left, y + sheet.text_px * 0.65)))
        left = area.left + sheet.px(36)
        facts = say("shelf.row", key=musical(entry.key), bars=entry.bars)
        small_y = y + round(sheet.text_px * 0.22)
        facts_rect = set_line_ending(surface, facts, (area.right, small_y), Face.TEXT, sheet.small_px, theme.faded)
        title = fitted(entry.title, Face.TEXT, sheet.text_px, round(area.width * 0.5))
        used = set_line(surface, title, (left, y), Face.TEXT, sheet.text_px, theme.ink)
        room = facts_rect.left - used.right - sheet.px(40)
        by = fitted(entry.composer, Face.ITALIC, sheet.small_px, max(0, room)) if entry.composer else ""
        if by:
            at = (used.right + sheet.px(18), small_y)
            set_line(surface, by, at, Face.ITALIC, sheet.small_px, theme.faded)

    def _draw_foot(self, surface: pygame.Surface) -> None:
        sheet, theme = self.around.sheet, self.around.theme
        if self.around.found and not self.around.message_shown:
            at = sheet.paper.bottom - sheet.px(114)
            room = pygame.Rect(sheet.text_area.left, at, sheet.text_area.width, sheet.px(60))
            set_block(surface, as_sentence(self.around.found), room, Face.ITALIC, sheet.small_px, theme.faded)
        keys = (
            ("keys.updown", "keys.choose"),
            ("keys.enter", "keys.open"),
            ("N", "keys.fresh_line"),
            ("M", "keys.map"),
            ("S", "keys.settings"),
            ("I", "keys.instruments"),
        )
        shown = [(say(key) if key.startswith("keys.") else key, say(meaning)) for key, meaning in keys]
        set_keys(surface, (*shown, (say("keys.escape"), say("keys.leave"))), sheet, theme)
