"""The shelf of tunes: what there is to read. The first screen; what is dropped on the window comes to stand here.

`/` or Ctrl+F begins a search that is typed, O goes to the next order; both are said at the top of the page.
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
from game.music.order_choices import order_choices
from game.player.seat import several_players
from game.player.session import ShelfView
from game.practice.free_string import MOST_PLUCKS
from game.practice.take_request import request_for
from game.screens.base_screen import BaseScreen
from game.screens.choosing.import_words import import_told
from game.screens.choosing.shelf_keys import ROUTE_OF_KEY, route_hints, shelf_hints
from game.screens.choosing.shelf_words import facts_in_words, order_in_words, search_in_words
from game.screens.context import ScreenContext
from game.screens.routes import Route, ToImportAccount, ToImportSummary, ToPage
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import as_sentence, say, tell_all
from game.tunes.library.library import ShelfEntry, open_entry, shelf
from game.tunes.library.shelf_order import ShelfOrder, found, ordered

_ROW_UNITS = 44
_MOST_TYPED = 40


class ShelfScreen(BaseScreen):
    """The tunes, one a line."""

    free_string_commands = True

    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._on_shelf: tuple[ShelfEntry, ...] = shelf()
        self._several_players = several_players()
        self._typing = False
        self._slow: dict[int, float] = {}
        self._entries = self._on_shelf
        self._newest = context.window.imports.newest
        self._refused = context.window.imports.refused
        if context.session.shelf_view != ShelfView():
            self._show()
        self._chosen = self._row_of(context.session.last_opened or self._newest)
        if context.window.imports.to_choose is not None:
            context.say(import_told(context.window.imports.to_choose))

    @property
    def typing(self) -> bool:
        """While a search is typed."""
        return self._typing

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        self._take_chosen()
        newest = self.context.window.imports.newest
        if newest is not self._newest:
            self._newest, self._on_shelf = newest, shelf()
            last = self.context.window.imports.last
            if last is not None and last.several:
                # A whole folder came: what of it to read first is what the player wants to know.
                self._show(order=ShelfOrder.NEXT)
                return self._account_of_refused()
            self._show(words="")
            self._chosen = self._row_of(newest)
            if newest is not None and not self.context.window.imports.busy:
                return self._open_dropped()
        return self._account_of_refused()

    def _account_of_refused(self) -> Route | None:
        """Where several files were not read, and this was not shown yet, each is named with its reason."""
        refused = self.context.window.imports.refused
        if refused is self._refused or refused is None:
            return None
        self._refused = refused
        return ToImportAccount(refused) if len(refused.faults) > 1 else None

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        """The free string plucked once opens the chosen tune, twice goes to the next, three times to the one before."""
        if plucks == 1:
            return self._open()
        self._move(1 if plucks < MOST_PLUCKS else -1)
        return None

    def read_anew(self) -> None:
        """The order may be another by what is known now; the same tune stays chosen."""
        if self._entries and self.context.session.shelf_view != ShelfView():
            chosen = self._entries[self._chosen]
            self._show()
            self._chosen = self._row_of(chosen)

    def _show(self, *, words: str | None = None, order: ShelfOrder | None = None) -> None:
        """Show what is wanted of the shelf, in the order that is wanted; the first of it is chosen."""
        looked = self.context.session.shelf_view
        self.context.session.shelf_view = ShelfView(
            words=looked.words if words is None else words, order=looked.order if order is None else order
        )
        neck_map = self.context.settings.neck_map()
        # All that was ever played is looked through once, and only where the order asks for it.
        asked, session = self._order is ShelfOrder.NEXT, self.context.session
        self._slow = dict.fromkeys((slow.key.sounding for slow in session.notes.slow(neck_map)), 1.0) if asked else {}
        seen = session.log.facts.opened_tunes if asked else frozenset()
        here = found(self._on_shelf, self._words)
        self._entries = ordered(here, self._order, neck_map, weights=self._slow, seen=seen)
        self._chosen = 0

    @property
    def _words(self) -> str:
        """What is searched for, empty for everything."""
        return self.context.session.shelf_view.words

    @property
    def _order(self) -> ShelfOrder:
        return self.context.session.shelf_view.order

    def _row_of(self, entry: ShelfEntry | None) -> int:
        return self._entries.index(entry) if entry in self._entries else 0

    def on_wheel(self, up: int) -> Route | None:
        self._move(-up)
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._move(1 if event.key == pygame.K_DOWN else -1)
            return None
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._open()
        if self._typing:
            self._type(event)
        elif event.key == pygame.K_ESCAPE and self._words:
            # What is left of a search goes first, then what is being read, then the game.
            self._show(words="")
        elif event.key == pygame.K_ESCAPE and self.context.window.imports.busy:
            self.context.window.imports.leave()
        elif not (self._looks_otherwise(event) or self._chose_part(event)):
            return self._opened_by(event.key)
        return None

    def _choose_files(self) -> None:
        """The system's own window for choosing files."""
        try:
            self.context.window.chooser.open()
        except OSError as error:
            self.context.say(say("shelf.no_chooser", reason=error.strerror or error))

    def _take_chosen(self) -> None:
        """What was chosen there is read as if it were dropped."""
        try:
            chosen = self.context.window.chooser.poll() or ()
        except HomefretError as error:
            self.context.say(say("shelf.no_chooser", reason=error.message))
            return
        for path in chosen:
            self.context.say(import_told(self.context.window.imports.drop(path)))

    def _opened_by(self, key: int) -> Route | None:
        if key == pygame.K_f:
            return self._open(at_sight=True)
        if key == pygame.K_r and self._refused is not None:
            return ToImportAccount(self._refused)
        return self._import_summary() if key == pygame.K_a else ROUTE_OF_KEY.get(key)

    def _import_summary(self) -> Route | None:
        """What was made of the chosen tune."""
        if not self._entries:
            return None
        entry = self._entries[self._chosen]
        try:
            return ToImportSummary(entry, open_entry(entry))
        except HomefretError as error:
            self.context.say_error(error)
        return None

    def _chose_part(self, event: pygame.event.Event) -> bool:
        """Whether this key answers which part of a dropped tune is meant."""
        to_choose = self.context.window.imports.to_choose
        if to_choose is None or not event.unicode.isdigit() or not 1 <= int(event.unicode) <= len(to_choose.names):
            return False
        started = self.context.window.imports.drop(to_choose.path, int(event.unicode))
        self.context.say(import_told(started))
        return True

    def _looks_otherwise(self, event: pygame.event.Event) -> bool:
        """Whether this key begins a search, asks for another order or for files."""
        if event.unicode == "/" or (event.key == pygame.K_f and event.mod & pygame.KMOD_CTRL):
            self._typing = True
        elif event.key == pygame.K_o and event.mod & pygame.KMOD_CTRL:
            self._choose_files()
        elif event.key == pygame.K_o:
            self._show(order=self._order.following)
        else:
            return False
        return True

    def _type(self, event: pygame.event.Event) -> None:
        """A key while a search is typed: letters narrow it, Esc ends it and shows all again."""
        if event.key == pygame.K_ESCAPE:
            self._typing = False
            self._show(words="")
        elif event.key == pygame.K_BACKSPACE:
            self._show(words=self._words[:-1])
        elif event.unicode and event.unicode.isprintable() and len(self._words) < _MOST_TYPED:
            self._show(words=self._words + event.unicode)

    def _move(self, by: int) -> None:
        if self._entries:
            self._chosen = max(0, min(len(self._entries) - 1, self._chosen + by))

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a tune; a click on the chosen one opens it."""
        row = self._first_shown + (at[1] - self._top) // self._row_height
        if not (self._top <= at[1] and self._first_shown <= row < min(len(self._entries), self._end_shown)):
            return None
        if row == self._chosen:
            return self._open()
        self._chosen = row
        return None

    def _open(self, *, at_sight: bool = False) -> Route | None:
        """The chosen tune: as the coach says, or at first sight."""
        if not self._entries:
            return None
        self.context.session.last_opened = self._entries[self._chosen]
        try:
            score = open_entry(self.context.session.last_opened)
            self.context.session.log.facts.open_tune(self.context.session.last_opened.name)
            request = request_for(score, self.context.settings.neck_map())
            return ToPage(request.at_sight(), chosen=True) if at_sight else ToPage(request)
        except HomefretError as error:
            self.context.say_error(error)
        return None

    def _open_dropped(self) -> Route | None:
        """What was dropped here is opened, and how its octave was settled is said. Where more was guessed or left out,
        or the order of play was a choice, its account comes first.
        """
        opened = self._open()
        if isinstance(opened, ToPage):
            from game.tunes.library.fitting import notes_off_map  # noqa: PLC0415 - not before the first frame

            score = opened.request.score
            if score.warnings or order_choices(score.bars) or notes_off_map(score, self.context.settings.neck_map()):
                return self._import_summary()
            settled = (score.octave_reason,) if score.octave_reason else ()
            self.context.say(tell_all((*settled, *score.warnings[:1])))
        return opened

    @property
    def _top(self) -> int:
        return self.context.sheet.text_area.top + self.context.sheet.px(84)

    @property
    def _row_height(self) -> int:
        return self.context.sheet.px(_ROW_UNITS)

    @property
    def _rows_shown(self) -> int:
        room = self.context.sheet.paper.bottom - self.context.sheet.px(160) - self._top
        return max(1, room // self._row_height)

    @property
    def _first_shown(self) -> int:
        return first_in_sight(chosen=self._chosen, shown=self._rows_shown, count=len(self._entries))

    @property
    def _end_shown(self) -> int:
        return self._first_shown + self._rows_shown

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        searched = search_in_words(self._words, len(self._entries), typing=self._typing)
        draw_heading(surface, sheet, theme, say("shelf.title"), below=searched, beside=order_in_words(self._order))
        self._draw_player(surface)
        if not self._entries:
            said = say("shelf.none_found" if self._on_shelf else "shelf.empty")
            draw_text(surface, said, (area.left, self._top), Face.TEXT, sheet.text_px, theme.ink)
        for row, entry in enumerate(self._entries[self._first_shown : self._end_shown], start=self._first_shown):
            self._draw_row(surface, row, entry)
        self._draw_foot(surface)
        return True

    def _draw_player(self, surface: pygame.Surface) -> None:
        """Whose shelf it is, where several play on this computer."""
        if self._several_players:
            sheet = self.context.sheet
            at = (sheet.text_area.right, sheet.text_area.top + sheet.px(52))
            room = sheet.text_area.width // 3
            name = shortened(self.context.session.name or say("players.first"), Face.ITALIC, sheet.small_px, room)
            draw_text_right(surface, name, at, Face.ITALIC, sheet.small_px, self.context.theme.faded)

    def _draw_row(self, surface: pygame.Surface, row: int, entry: ShelfEntry) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        y = self._top + (row - self._first_shown) * self._row_height
        if row == self._chosen:
            draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)
        left = area.left + sheet.px(36)
        facts = facts_in_words(entry, self._order, self.context.settings.neck_map(), self._slow)
        small_y = y + round(sheet.text_px * 0.22)
        facts_rect = draw_text_right(surface, facts, (area.right, small_y), Face.TEXT, sheet.small_px, theme.faded)
        title = shortened(entry.title, Face.TEXT, sheet.text_px, round(area.width * 0.5))
        used = draw_text(surface, title, (left, y), Face.TEXT, sheet.text_px, theme.ink)
        room = facts_rect.left - used.right - sheet.px(40)
        by = shortened(entry.composer, Face.ITALIC, sheet.small_px, max(0, room)) if entry.composer else ""
        if by:
            at = (used.right + sheet.px(18), small_y)
            draw_text(surface, by, at, Face.ITALIC, sheet.small_px, theme.faded)

    def _draw_foot(self, surface: pygame.Surface) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        found = tell_all(self.context.devices.instruments.found)
        if found and not self.context.message_shown:
            at = sheet.paper.bottom - sheet.px(134)
            room = pygame.Rect(sheet.text_area.left, at, sheet.text_area.width, sheet.px(52))
            draw_paragraph(
                surface,
                as_sentence(found),
                room,
                Face.ITALIC,
                sheet.small_px,
                theme.faded,
            )
        if not (self._typing or self.context.message_shown):
            routes = route_hints(several_players=self._several_players, refused=self._refused is not None)
            draw_keys(self.context, surface, routes, row=1)
        reading = self.context.window.imports.busy
        keys = shelf_hints(typing=self._typing, searched=bool(self._words), reading=reading)
        draw_keys(self.context, surface, keys)
