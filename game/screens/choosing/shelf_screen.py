"""The shelf of tunes: what there is to read, each tune a row of small pages. What is dropped on the window comes to
stand here.

`/` or Ctrl+F begins a search that is typed, O goes to the next order; both are said at the top of the sheet.
"""

import pygame

from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.typography import Face, shortened
from game.errors import HomefretError
from game.music.order_choices import order_choices
from game.player.seat import several_players
from game.practice.take_request import request_for
from game.screens.base_screen import BaseScreen
from game.screens.choosing.shelf_files import ShelfFiles
from game.screens.choosing.shelf_keys import shelf_hints
from game.screens.choosing.shelf_layout import HEADING, LEFT, TITLE_LEFT, ShelfLayout, pages_in_sight
from game.screens.choosing.shelf_list import ShelfList
from game.screens.choosing.shelf_pages import ShelfPages, page_mark
from game.screens.choosing.shelf_rows import ShelfRow, draw_legend, draw_row, is_cut
from game.screens.choosing.shelf_words import beside_title, details_in_words, order_in_words
from game.screens.context import ScreenContext
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import LIST_KEYS, key_hints
from game.screens.routes import (
    Back,
    Route,
    ToFromPaper,
    ToImportAccount,
    ToImportSummary,
    ToInstruments,
    ToPage,
    ToProgramme,
)
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet
from game.text.catalogue import say, tell_all
from game.tunes.library.library import ShelfEntry, open_entry
from game.tunes.library.shelf_order import ShelfOrder

_MOST_TYPED = 40
_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)


class ShelfScreen(BaseScreen):
    """The tunes, one a row."""

    tab = SheetTab.SHELF
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.list = ShelfList(context)
        self._pages = ShelfPages(context)
        self._files = ShelfFiles(context)
        self._several_players = several_players()
        self._typing = False
        # Which page of the chosen tune was picked; None where it goes on.
        self._picked: int | None = None
        self._looked_up = self._drawn = False
        self._kept = KeptPicture(context)
        self.list.choose(context.session.last_opened or self._files.newest)

    @property
    def typing(self) -> bool:
        """While a search is typed."""
        return self._typing

    @property
    def moving(self) -> bool:
        """While pages of the tunes in sight are still looked up."""
        return not self._looked_up

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        self._files.take_chosen()
        if self._files.came():
            self.list.read_shelf()
            imports = self.context.window.imports
            if imports.last is not None and imports.last.several:
                # A whole folder came: what of it to read first is what the player wants to know.
                self._show(order=ShelfOrder.NEXT)
                return self._files.account_of_refused()
            self._show(words="")
            self.list.choose(self._files.newest)
            if self._files.newest is not None and not imports.busy:
                return self._open_dropped()
        return self._files.account_of_refused()

    def read_anew(self) -> None:
        self.list.show_anew()
        self._kept.forget()

    def resized(self) -> None:
        self._kept.forget()

    def _show(self, *, words: str | None = None, order: ShelfOrder | None = None) -> None:
        self.list.show(words=words, order=order)
        self._picked = None

    def on_wheel(self, up: int) -> Route | None:
        self._move(-up * self._layout.rows)
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in _ENTER:
            return self._open()
        if not self._chose(event.key):
            if self._typing:
                self._type(event)
            elif event.key == pygame.K_ESCAPE:
                return self._leave()
            elif not (self._looks_otherwise(event) or self._files.chose_part(event)):
                return self._opened_by(event.key)
        return None

    def _chose(self, key: int) -> bool:
        """Whether this key chooses another tune, or another of its pages."""
        rows, most = self._layout.rows, len(self.list.entries)
        moves = {
            pygame.K_UP: -1,
            pygame.K_DOWN: 1,
            pygame.K_PAGEUP: -rows,
            pygame.K_PAGEDOWN: rows,
            pygame.K_HOME: -most,
            pygame.K_END: most,
        }
        if key in moves:
            self._move(moves[key])
        elif key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._pick(1 if key == pygame.K_RIGHT else -1)
        else:
            return False
        return True

    def _leave(self) -> Route | None:
        """What is left of a search goes first, then what is being read."""
        if self.list.words:
            self._show(words="")
        elif self.context.window.imports.busy:
            self.context.window.imports.leave()
        else:
            return Back()
        return None

    def _opened_by(self, key: int) -> Route | None:
        if key == pygame.K_f:
            return self._open(at_sight=True)
        if key == pygame.K_u and self._files.refused is not None:
            return ToImportAccount(self._files.refused)
        if key == pygame.K_q:
            return self._import_summary()
        if key == pygame.K_v:
            return ToProgramme(self.list.entry.name if self.list.entry else "")
        leads: dict[int, Route] = {pygame.K_e: ToFromPaper(), pygame.K_i: ToInstruments()}
        return leads.get(key)

    def _import_summary(self) -> Route | None:
        """What was made of the chosen tune."""
        entry = self.list.entry
        if entry is None:
            return None
        try:
            return ToImportSummary(entry, open_entry(entry))
        except HomefretError as error:
            self.context.say_error(error)
        return None

    def _looks_otherwise(self, event: pygame.event.Event) -> bool:
        """Whether this key begins a search, asks for another order or for files."""
        if event.unicode == "/" or (event.key == pygame.K_f and event.mod & pygame.KMOD_CTRL):
            self._typing = True
        elif event.key == pygame.K_o and event.mod & pygame.KMOD_CTRL:
            self._files.choose()
        elif event.key == pygame.K_o:
            self._show(order=self.list.order.following)
        else:
            return False
        return True

    def _type(self, event: pygame.event.Event) -> None:
        """A key while a search is typed: letters narrow it, Esc ends it and shows all again."""
        if event.key == pygame.K_ESCAPE:
            self._typing = False
            self._show(words="")
        elif event.key == pygame.K_BACKSPACE:
            self._show(words=self.list.words[:-1])
        elif event.unicode and event.unicode.isprintable() and len(self.list.words) < _MOST_TYPED:
            self._show(words=self.list.words + event.unicode)

    def _move(self, by: int) -> None:
        self.list.move(by)
        self._picked = None
        # Whoever looks elsewhere for a moment finds the same tune chosen again.
        self.context.session.last_opened = self.list.entry

    def _pick(self, by: int) -> None:
        """Another page of the chosen tune."""
        entry = self.list.entry
        if entry is not None:
            count = len(self._pages.at_once(entry).pages)
            self._picked = max(0, min(count - 1, self._page_of(entry) + by))

    def _page_of(self, entry: ShelfEntry) -> int:
        """The page of a tune that would be opened, from 0."""
        if self._picked is not None and entry == self.list.entry:
            return self._picked
        pages = self._pages.of(entry)
        return pages.next_page(self._pages.records) if pages else 0

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a small page opens those bars; beside them it chooses a tune, and opens the chosen one."""
        spot = self._layout.spot(at)
        row = self._first_shown + spot[0] if spot else len(self.list.entries)
        if spot is None or row >= len(self.list.entries):
            return None
        entry = self.list.entries[row]
        shown = pages_in_sight(len(self._pages.at_once(entry).pages), self._page_of(entry))
        on_page = spot[1] is not None and spot[1] < len(shown)
        if row == self.list.chosen and not on_page:
            return self._open()
        self._move(row - self.list.chosen)
        if spot[1] is not None and on_page:
            self._picked = shown[spot[1]]
            return self._open()
        return None

    def _open(self, *, at_sight: bool = False) -> Route | None:
        """The chosen tune: as the coach says, or at first sight."""
        entry = self.list.entry
        if entry is None:
            return None
        self.context.session.last_opened = entry
        try:
            score = open_entry(entry)
            pages = self._pages.at_once(entry).pages
            index = pages[self._page_of(entry)].index if pages else 0
            self.context.session.log.facts.open_tune(entry.name)
            request = request_for(score, self.context.settings.neck_map())
            return ToPage(request.at_sight(), chosen=True) if at_sight else ToPage(request.moved(index))
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
    def _layout(self) -> ShelfLayout:
        return ShelfLayout(self.context.sheet)

    @property
    def _first_shown(self) -> int:
        return first_in_sight(chosen=self.list.chosen, shown=self._layout.rows, count=len(self.list.entries))

    def draw(self, surface: pygame.Surface) -> bool:
        layout, first = self._layout, self._first_shown
        shown = self.list.entries[first : first + layout.rows]
        # The first picture comes at once; the pages of its tunes are looked up for the next one.
        self._looked_up = self._drawn and self._pages.look_up(shown)
        self._drawn = True
        rows = tuple(self._row(row, one, chosen=first + row == self.list.chosen) for row, one in enumerate(shown))
        imports = self.context.window.imports
        other = self.list.words, self.list.order, self._typing, self._files.refused, imports.busy, imports.to_choose
        self._kept.show(surface, (rows, self.list.on_shelf, *other), lambda onto: self._draw(onto, rows))
        return True

    def _draw(self, surface: pygame.Surface, rows: tuple[ShelfRow, ...]) -> None:
        layout = self._layout
        canvas = lay_sheet(self.context, surface, self.tab)
        self._draw_heading(canvas, layout)
        for row in rows:
            draw_row(canvas, layout, row)
        self._draw_words(canvas, layout)
        self._draw_foot(surface)

    def _row(self, row: int, entry: ShelfEntry, *, chosen: bool) -> ShelfRow:
        pages = self._pages.of(entry)
        marks = pages.marks(self._pages.records) if pages else ()
        read = pages.read(self._pages.records) if pages else ()
        return ShelfRow(
            row=row,
            entry=entry,
            beside=beside_title(entry, self.list.order, self.context.settings.neck_map(), self.list.slow),
            pages=tuple(map(page_mark, marks)),
            read=frozenset(number for number, was_read in enumerate(read) if was_read),
            at=self._page_of(entry) if pages else 0,
            chosen=chosen,
            new=entry.name in self.list.new,
        )

    def _draw_heading(self, canvas: Canvas, layout: ShelfLayout) -> None:
        theme, quiet = self.context.theme, Style(Face.ITALIC, 24, self.context.theme.faded)
        used = canvas.write(say("shelf.title"), (LEFT, HEADING), Style(Face.TITLE, 44, theme.ink))
        words = self.list.where(typing=self._typing), order_in_words(self.list.order)
        left = used.right / canvas.sheet.unit + 24
        name = self.context.session.name or say("players.first") if self._several_players else ""
        name = shortened(name, Face.ITALIC, canvas.px(24), canvas.px(240))
        canvas.write(name, (layout.right, HEADING), quiet, Align.RIGHT)
        room = layout.right - left - canvas.width_of(name, quiet) - 20
        said = shortened("    ".join(filter(None, words)), Face.ITALIC, canvas.px(24), canvas.px(room))
        canvas.write(said, (left, HEADING), quiet)
        draw_legend(canvas, layout)

    def _draw_words(self, canvas: Canvas, layout: ShelfLayout) -> None:
        """What is said of the chosen tune, or what to do where there is none."""
        theme, room = self.context.theme, canvas.px(layout.right - TITLE_LEFT)
        entry, text = self.list.entry, Style(Face.TEXT, 25, theme.ink)
        if entry is None:
            canvas.write(say("shelf.none_found"), (TITLE_LEFT, layout.baseline(0)), text)
            return
        said = details_in_words(entry, self.context.settings.neck_map())
        if all(one.shipped for one in self.list.on_shelf):
            said = say("shelf.own_wanted")
        if is_cut(canvas, layout, entry.title):
            said = say("shelf.details_of", title=entry.title, details=said)
        quiet = Style(Face.ITALIC, 21, theme.faded)
        canvas.write(shortened(said, Face.ITALIC, canvas.px(21), room), (TITLE_LEFT, layout.details), quiet)

    def _draw_foot(self, surface: pygame.Surface) -> None:
        entry = self.list.entry
        right = self._layout.right
        if entry is not None:
            pages = self._pages.of(entry)
            begun = pages is not None and pages.begun(self._pages.records)
            page = pages.pages[self._page_of(entry)] if pages and pages.pages else None
            bars = say("shelf.bars", first=page.first, last=page.last) if page else ""
            box = draw_next(self.context, surface, say("shelf.go_on" if begun else "shelf.open"), above=bars)
            right = box.left / self.context.sheet.unit - 20
        reading = self.context.window.imports.busy
        keys = shelf_hints(
            typing=self._typing,
            searched=bool(self.list.words),
            reading=reading,
            refused=self._files.refused is not None,
        )
        draw_keys(self.context, surface, (*self._files.hints, *keys), most_rows=2, right=right)
        self.context.window.tell_keys(key_hints(*LIST_KEYS))
