"""The shelf of tunes: what there is to read, each tune a row of small pages. What is dropped on the window comes to
stand here.

`/` or Ctrl+F begins a search that is typed, O goes to the next order; both are said at the top of the sheet.
"""

import pygame

from game.message import Message
from game.player.seat import several_players
from game.screens.base_screen import BaseScreen
from game.screens.choosing.shelf_choice import ShelfChoice
from game.screens.choosing.shelf_drawing import draw_heading, draw_words
from game.screens.choosing.shelf_files import ShelfFiles
from game.screens.choosing.shelf_keys import shelf_hints
from game.screens.choosing.shelf_layout import ShelfLayout, pages_in_sight
from game.screens.choosing.shelf_list import ShelfList
from game.screens.choosing.shelf_opening import import_summary, opened, opened_dropped
from game.screens.choosing.shelf_pages import ShelfPages
from game.screens.choosing.shelf_rows import ShelfRow, draw_row, followed_of
from game.screens.context import ScreenContext
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import LIST_KEYS, key_hints
from game.screens.routes import (
    Back,
    Route,
    ToFromPaper,
    ToImportAccount,
    ToInstruments,
    ToProgramme,
)
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet
from game.text.catalogue import say
from game.tunes.library.shelf_entry import ShelfEntry
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
        self._choice = ShelfChoice(self.list, self._pages)
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
        chosen = self._files.take_chosen()
        if chosen is not None:
            return chosen
        if self._files.came():
            self.list.read_shelf()
            imports = self.context.window.imports
            if imports.last is not None and imports.last.several:
                # A whole folder came: what of it to read first is what the player wants to know.
                self._show(order=ShelfOrder.NEXT)
                return self._files.account_of_refused()
            self._show(words="")
            self.list.choose(self._files.newest)
            if self.list.entry is not None and self._files.newest is not None and not imports.busy:
                return self._open_dropped(self.list.entry)
        return self._files.account_of_refused()

    def read_anew(self) -> None:
        self.list.show_anew()
        self._kept.forget()

    def resized(self) -> None:
        self._kept.forget()

    def _show(self, *, words: str | None = None, order: ShelfOrder | None = None) -> None:
        self.list.show(words=words, order=order)
        self._choice.forget()

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
            self._choice.pick_next(1 if key == pygame.K_RIGHT else -1)
        else:
            return False
        return True

    def _leave(self) -> Route | None:
        """What is left of a search goes first, then what is being read, then what is asked."""
        if self.list.words:
            self._show(words="")
        elif self.context.window.imports.busy:
            self.context.window.imports.leave()
        elif self.context.window.imports.to_choose is not None:
            self.context.window.imports.let_go()
        else:
            return Back()
        return None

    def _opened_by(self, key: int) -> Route | None:
        if key == pygame.K_f:
            return self._open(at_sight=True)
        if key == pygame.K_u and self._files.refused is not None:
            return ToImportAccount(self._files.refused)
        if key == pygame.K_q:
            return import_summary(self.context, self.list.entry) if self.list.entry else None
        if key == pygame.K_v:
            return ToProgramme(self.list.entry.name if self.list.entry else "")
        leads: dict[int, Route] = {pygame.K_e: ToFromPaper(), pygame.K_i: ToInstruments()}
        return leads.get(key)

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
        self._choice.forget()
        # Whoever looks elsewhere for a moment finds the same tune chosen again.
        self.context.session.last_opened = self.list.entry

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click on a small page opens those bars; beside them it chooses a tune, and opens the chosen one."""
        spot = self._layout.spot(at)
        row = self._first_shown + spot[0] if spot else len(self.list.entries)
        if spot is None or row >= len(self.list.entries):
            return None
        entry = self.list.entries[row]
        shown = pages_in_sight(len(self._pages.at_once(entry).pages), self._choice.page_of(entry))
        on_page = spot[1] is not None and spot[1] < len(shown)
        if row == self.list.chosen and not on_page:
            return self._open()
        self._move(row - self.list.chosen)
        if spot[1] is not None and on_page:
            self._choice.pick(shown[spot[1]])
            return self._open()
        return None

    def _open(self, *, at_sight: bool = False) -> Route | None:
        """The chosen tune: as the coach says, or at first sight."""
        entry = self.list.entry
        if entry is None:
            return None
        return opened(self.context, entry, self._pages.at_once(entry), self._choice.page_of(entry), at_sight=at_sight)

    def _open_dropped(self, entry: ShelfEntry) -> Route | None:
        """A tune that came just now, and is chosen."""
        return opened_dropped(self.context, entry, self._pages.at_once(entry), self._choice.page_of(entry))

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
        neck_map = self.context.settings.neck_map()
        rows = tuple(self._choice.row(number, one, neck_map) for number, one in enumerate(shown))
        chosen = self.list.entry
        hand = self._pages.hand_in(chosen) if chosen is not None and self._looked_up else ()
        imports = self.context.window.imports
        other = (
            hand,
            self.list.words,
            self.list.order,
            self._typing,
            self._files.refused,
            imports.busy,
            imports.to_choose,
        )
        self._kept.show(surface, (rows, self.list.on_shelf, *other), lambda onto: self._draw(onto, rows, hand))
        return True

    def _draw(self, surface: pygame.Surface, rows: tuple[ShelfRow, ...], hand: tuple[Message, ...]) -> None:
        layout, canvas = self._layout, lay_sheet(self.context, surface, self.tab)
        name = self.context.session.name or say("players.first") if self._several_players else ""
        draw_heading(canvas, layout, self.list, name, typing=self._typing)
        for row in rows:
            draw_row(canvas, layout, row)
            if row.chosen:
                self.context.window.follow(followed_of(canvas, layout, row))
        draw_words(self.context, canvas, layout, self.list, hand)
        self._draw_foot(surface)

    def _draw_foot(self, surface: pygame.Surface) -> None:
        entry = self.list.entry
        right = self._layout.right
        if entry is not None:
            words, bars = self._choice.corner(entry)
            box = draw_next(self.context, surface, words, above=bars)
            right = box.left / self.context.sheet.unit - 20
        reading, refused = self.context.window.imports.busy, self._files.refused is not None
        asked, searched = self.context.window.imports.to_choose is not None, bool(self.list.words)
        keys = shelf_hints(typing=self._typing, searched=searched, reading=reading, refused=refused, asked=asked)
        draw_keys(self.context, surface, (*self._files.hints, *keys), most_rows=2, right=right)
        self.context.window.tell_keys(key_hints(*LIST_KEYS))
