"""What of a dropping was not read, and why: each file with its reason, page after page where there are many."""

import pygame

from game.desk.fitted_text import Paragraph, draw_fitted, pages_of
from game.desk.paper import draw_heading
from game.screens.base_screen import BaseScreen
from game.screens.choosing.import_words import fault_told
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say
from game.tunes.library.import_results import ImportDone, ImportRefused

_TOP_UNITS, _FOOT_UNITS = 100, 104
_TEXT_UNITS = 22


class ImportAccountScreen(BaseScreen):
    """The account of one dropping. `page` counts from 0."""

    def __init__(self, context: ScreenContext, outcome: ImportDone | ImportRefused) -> None:
        super().__init__(context)
        self.outcome = outcome
        self.page = 0

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return ToShelf()
        if event.key in (pygame.K_DOWN, pygame.K_PAGEDOWN, pygame.K_RIGHT):
            self._turn(1)
        elif event.key in (pygame.K_UP, pygame.K_PAGEUP, pygame.K_LEFT):
            self._turn(-1)
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._turn(-1 if up > 0 else 1)
        return None

    def resized(self) -> None:
        self._turn(0)

    def _turn(self, by: int) -> None:
        self.page = max(0, min(len(self.pages) - 1, self.page + by))

    @property
    def sentences(self) -> tuple[str, ...]:
        """Why each was not read."""
        return tuple(fault_told(fault) for fault in self.outcome.faults)

    @property
    def pages(self) -> tuple[tuple[Paragraph, ...], ...]:
        """The sentences as the paper has room for them."""
        paragraphs = [Paragraph(text=sentence, colour=self.context.theme.ink) for sentence in self.sentences]
        return pages_of(paragraphs, self._room, self._px)

    @property
    def _px(self) -> int:
        return self.context.sheet.px(_TEXT_UNITS)

    @property
    def _room(self) -> pygame.Rect:
        sheet = self.context.sheet
        area, top = sheet.text_area, sheet.text_area.top + sheet.px(_TOP_UNITS)
        return pygame.Rect(area.left, top, area.width, sheet.paper.bottom - sheet.px(_FOOT_UNITS) - top)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        pages = self.pages
        several = len(pages) > 1
        beside = say("import_account.page", page=self.page + 1, pages=len(pages)) if several else ""
        draw_heading(surface, sheet, theme, say("import_account.title"), below=self._came(), beside=beside)
        draw_fitted(surface, pages[self.page], self._room, self._px)
        turning = (("keys.updown", "keys.turn_pages"),) if several else ()
        corner = draw_next(self.context, surface, say("import_account.on"))
        keys = key_hints(*turning, ("keys.escape", "keys.back"))
        draw_keys(self.context, surface, keys, right=corner.left / sheet.unit - 20)
        return True

    def _came(self) -> str:
        outcome = self.outcome
        entries = outcome.entries if isinstance(outcome, ImportDone) else ()
        return say("import_account.came", count=len(entries), refused=len(outcome.faults))
