"""The book of pages that can be played: each small, in ink, with signature and date. What is in time waits, dashed.

Enter plays a page whole, opens one that waits, or leads to signing one that nobody has signed yet; Tab turns it over;
Space stops what sounds, and starts it again.
"""

from dataclasses import replace

import pygame

from game.desk.kit.book_sheet import BOOK_SHEET, draw_ledge
from game.lines.titles import title_told
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import LIST_KEYS, KeyHint, NamedKey, key_hints
from game.screens.progress.book_drawing import ShownPage, draw_book_heading, draw_first_wanted, draw_page
from game.screens.progress.book_layout import BookLayout
from game.screens.progress.book_pages import BookPage, book_pages
from game.screens.progress.page_pictures import PagePictures
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.bass_and_chords_key import (
    BASS_AND_CHORDS_KEY,
    bass_and_chords_hint,
    toggle_bass_and_chords,
)
from game.screens.routes import Back, Route, ToPage, ToProgramme, ToSigning
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import SheetTab, draw_next, lay_sheet
from game.text.catalogue import say

_ENTER = (pygame.K_RETURN, pygame.K_KP_ENTER)
_LEDGE_RIGHT = 18.0


class BookScreen(BaseScreen):
    """The book."""

    tab = SheetTab.BOOK
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._all = book_pages(context)
        self._only_signed = False
        self.chosen = 0
        self._turned: set[str] = set()
        self._pictures = PagePictures(context)
        self._missing = True
        self._kept = KeptPicture(context)
        self._more = pygame.Rect(0, 0, 0, 0), pygame.Rect(0, 0, 0, 0)

    @property
    def pages(self) -> tuple[BookPage, ...]:
        """The pages that are shown."""
        return tuple(page for page in self._all if page.signed or not self._only_signed)

    @property
    def page(self) -> BookPage | None:
        """The page that is chosen."""
        return self.pages[self.chosen] if self.pages else None

    @property
    def moving(self) -> bool:
        """While pictures of pages in sight are still to be made."""
        return self._missing

    def handle(self, event: pygame.event.Event) -> Route | None:
        """What sounds ends with the sheet."""
        route = super().handle(event)
        if route is not None:
            self.context.devices.sound.stop()
        return route

    def read_anew(self) -> None:
        self._all = book_pages(self.context)
        self.chosen = min(self.chosen, max(0, len(self.pages) - 1))
        self._missing = True
        self._kept.forget()

    def resized(self) -> None:
        self._missing = True
        self._kept.forget()

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        wanted = [(self.pages[number].figures, self.pages[number].signed is not None) for number in self._in_sight]
        self._missing = self._pictures.make_one(wanted)
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._choose(self.chosen - up * self._layout.columns * self._layout.ledges)
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        match event.key:
            case pygame.K_ESCAPE:
                return Back()
            case key if key in _ENTER:
                return self._enter()
            case pygame.K_SPACE:
                self._start_or_stop()
            case pygame.K_TAB if self.page is not None:
                self._turned ^= {self.page.figures.key}
            case key if key == BASS_AND_CHORDS_KEY and self.page is not None:
                toggle_bass_and_chords(self.context)
            case pygame.K_v:
                return ToProgramme()
            case pygame.K_o if self.pages or self._only_signed:
                self._only_signed = not self._only_signed
                self.chosen = 0
            case key:
                self._move(key)
        return None

    def _move(self, key: int) -> None:
        columns, most = self._layout.columns, len(self.pages)
        in_sight = columns * self._layout.ledges
        steps = {
            pygame.K_LEFT: -1,
            pygame.K_RIGHT: 1,
            pygame.K_UP: -columns,
            pygame.K_DOWN: columns,
            pygame.K_PAGEUP: -in_sight,
            pygame.K_PAGEDOWN: in_sight,
            pygame.K_HOME: -most,
            pygame.K_END: most,
        }
        self._choose(self.chosen + steps.get(key, 0))

    def _choose(self, number: int) -> None:
        self.chosen = min(max(number, 0), max(0, len(self.pages) - 1))

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a page; one on the chosen page does what the corner says. One on what is said of the pages
        above or below brings these into sight.
        """
        for rect, key in zip(self._more, (pygame.K_PAGEUP, pygame.K_PAGEDOWN), strict=True):
            if rect.collidepoint(at):
                self._move(key)
        number, in_sight = self._layout.number_at(at), self._in_sight
        if number is None or number >= len(in_sight):
            return None
        if in_sight[number] == self.chosen:
            return self._enter()
        self.chosen = in_sight[number]
        return None

    def _enter(self) -> Route | None:
        """A signed page is played whole, one without a name is signed, one that waits is opened."""
        page = self.page
        located = self._pictures.located(page.figures) if page else None
        if page is None:
            return None
        if located is None:
            self.context.say(say("book.gone", title=title_told(page.figures.title)))
            return None
        if page.unnamed:
            return ToSigning(replace(located.request, tempo_bpm=round(page.bpm or self.context.settings.target_bpm)))
        if page.signed is not None:
            self._play(page)
            return None
        self.context.session.last_opened = located.entry
        return ToPage(located.request)

    def _start_or_stop(self) -> None:
        sound = self.context.devices.sound
        if sound.strings.playing:
            sound.stop()
        elif self.page is not None:
            self._play(self.page)

    def _play(self, page: BookPage) -> None:
        """The page as it is written, at the tempo it was signed at; with bass and chords unless none are wished."""
        located = self._pictures.located(page.figures)
        if located is not None:
            hear_passage(self.context, located.passage, tempo_bpm=page.bpm)
            self.context.say_sound()

    @property
    def _layout(self) -> BookLayout:
        return BookLayout(self.context.sheet)

    @property
    def _in_sight(self) -> range:
        return self._layout.in_sight(self.chosen, len(self.pages))

    def draw(self, surface: pygame.Surface) -> bool:
        shown = tuple(self._shown(number) for number in self._in_sight)
        self._kept.show(
            surface,
            (shown, self._only_signed, len(self._all), self.context.settings.accompanied),
            lambda onto: self._draw(onto, shown),
        )
        return True

    def _draw(self, surface: pygame.Surface, shown: tuple[ShownPage, ...]) -> None:
        layout = self._layout
        canvas = lay_sheet(self.context, surface, self.tab)
        in_sight, count = self._in_sight, len(self.pages)
        self._more = draw_book_heading(canvas, layout.right, self._all, (in_sight.start, count - in_sight.stop))
        for row in range(layout.ledges):
            x, y = layout.place(row * layout.columns)
            draw_ledge(canvas, x - _LEDGE_RIGHT, layout.right + _LEDGE_RIGHT, y + BOOK_SHEET[1])
        for place, page in enumerate(shown):
            draw_page(canvas, layout.place(place), page)
            if page.chosen:
                self.context.window.follow(canvas.rect(*layout.place(place), *BOOK_SHEET))
        if not self.pages:
            draw_first_wanted(canvas, layout.place(0))
        self._draw_foot(surface, layout)

    def _shown(self, number: int) -> ShownPage:
        page = self.pages[number]
        picture = self._pictures.of(page.figures, signed=page.signed is not None)
        located = self._pictures.known(page.figures)
        record = self.context.session.coach.state.records.get(page.figures.key)
        return ShownPage(
            page=page,
            picture=picture,
            meter=located.passage.bars[0].meter if located else None,
            signature=self.context.session.log.facts.desk.signature,
            chosen=number == self.chosen,
            turned=page.figures.key in self._turned,
            gone=self._pictures.is_gone(page.figures),
            kept_bpms=record.kept_bpms if record else (),
            today=self.context.session.today(),
        )

    def _draw_foot(self, surface: pygame.Surface, layout: BookLayout) -> None:
        right, page = layout.right, self.page
        if page is not None:
            right = draw_next(self.context, surface, say(_corner(page))).left / self.context.sheet.unit - 20
        draw_keys(self.context, surface, self._keys(), most_rows=layout.key_rows, right=right)
        if len(self.pages) > 1:
            self.context.window.tell_keys(key_hints(*LIST_KEYS))

    def _keys(self) -> tuple[KeyHint, ...]:
        back: NamedKey = ("keys.escape", "keys.today")
        if not self.pages and not self._only_signed:
            return key_hints(("V", "keys.programme"), back)
        band = bass_and_chords_hint(self.context) if self.page is not None else ()
        only = ("O", "keys.all_pages" if self._only_signed else "keys.only_signed")
        sounds = key_hints(("keys.tab", "keys.turn_over"), ("keys.space", "keys.start_or_stop"))
        # Of pages that stand side by side one sees how they are chosen.
        return (*sounds, *band, *key_hints(("V", "keys.programme"), back, only, ("keys.all_arrows", "keys.choose")))


def _corner(page: BookPage) -> str:
    if page.unnamed:
        return "corner.sign_page"
    return "book.play" if page.signed is not None else "book.open"
