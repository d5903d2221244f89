"""Music on paper: enter it as a tune, go on with one that was begun, or practise from the paper itself."""

from pathlib import Path

import pygame

from game.desk.paper import draw_choice_mark, draw_heading, draw_text, draw_text_right
from game.desk.typography import Face, shortened
from game.errors import HomefretError
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToEntering, ToPaperPractice
from game.screens.rows_in_sight import first_in_sight
from game.screens.shown_keys import draw_keys, lay_paper
from game.screens.tabbed_sheet import draw_next
from game.text.catalogue import say
from game.tunes.entering.draft import Draft
from game.tunes.entering.draft_file import KeptDraft, kept_drafts, throw_away

_ROW_UNITS = 44
_DOORS: tuple[tuple[str, Route], ...] = (
    ("from_paper.enter", ToEntering()),
    ("from_paper.practise", ToPaperPractice()),
)


class FromPaperScreen(BaseScreen):
    """Two doors, and below them the drafts, the one of last first. It is chosen where nothing of it is on the shelf."""

    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._drafts = kept_drafts(context.session.folder)
        self._asked_of: Path | None = None
        under_way = bool(self._drafts) and not self._drafts[0].draft.kept_as
        self._chosen = len(_DOORS) if under_way else 0

    @property
    def _count(self) -> int:
        return len(_DOORS) + len(self._drafts)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._move(1 if event.key == pygame.K_DOWN else -1)
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._open()
        elif event.key == pygame.K_DELETE and self._draft is not None:
            self._throw_away(self._draft)
        elif event.key == pygame.K_ESCAPE:
            return Back()
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._move(-up)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a row; a click on the chosen one opens it."""
        row = self._first_shown + (at[1] - self._top) // self._row_height
        if at[1] < self._top or row >= min(self._count, self._first_shown + self._rows_shown):
            return None
        if row == self._chosen:
            return self._open()
        self._chosen = row
        return None

    def _move(self, by: int) -> None:
        self._chosen = max(0, min(self._count - 1, self._chosen + by))
        if by:
            self._asked_of = None

    @property
    def _draft(self) -> KeptDraft | None:
        """The chosen one, None for a door."""
        return self._drafts[self._chosen - len(_DOORS)] if self._chosen >= len(_DOORS) else None

    def _throw_away(self, kept: KeptDraft) -> None:
        """Asked for twice: a draft is work."""
        if self._asked_of != kept.path:
            self._asked_of = kept.path
            self.context.say(say("from_paper.throw_away", title=kept.draft.title or say("writing.untitled")))
            return
        try:
            throw_away(kept.path)
        except HomefretError as error:
            self.context.say_error(error)
            return
        self.context.say(say("from_paper.thrown_away", title=kept.draft.title or say("writing.untitled")))
        self._drafts, self._asked_of = kept_drafts(self.context.session.folder), None
        self._move(0)

    def _open(self) -> Route:
        if self._draft is None:
            return _DOORS[self._chosen][1]
        return ToEntering(path=self._draft.path, draft=self._draft.draft)

    @property
    def _top(self) -> int:
        return self.context.sheet.text_area.top + self.context.sheet.px(96)

    @property
    def _row_height(self) -> int:
        return self.context.sheet.px(_ROW_UNITS)

    @property
    def _rows_shown(self) -> int:
        return max(1, (self.context.sheet.paper.bottom - self.context.sheet.px(110) - self._top) // self._row_height)

    @property
    def _first_shown(self) -> int:
        return first_in_sight(chosen=self._chosen, shown=self._rows_shown, count=self._count)

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        draw_heading(surface, sheet, theme, say("from_paper.title"), below=say("from_paper.explain"))
        for row in range(self._first_shown, min(self._count, self._first_shown + self._rows_shown)):
            self._draw_row(surface, row)
        draft = (("keys.delete", "keys.throw_away"),) if self._draft else ()
        corner = draw_next(self.context, surface, say("from_paper.go_on" if self._draft else "from_paper.begin"))
        keys = ("keys.updown", "keys.choose"), *draft, ("keys.escape", "keys.back")
        draw_keys(self.context, surface, key_hints(*keys), right=corner.left / sheet.unit - 20)
        return True

    def _draw_row(self, surface: pygame.Surface, row: int) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area, y = sheet.text_area, self._top + (row - self._first_shown) * self._row_height
        if row == self._chosen:
            draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)
            self.context.window.follow(pygame.Rect(area.left, y, area.width, self._row_height))
        left = area.left + sheet.px(36)
        if row < len(_DOORS):
            end = draw_text(surface, say(_DOORS[row][0]), (left, y), Face.TEXT, sheet.text_px, theme.ink).right
            at = end + sheet.px(18), y + round(sheet.text_px * 0.22)
            why = shortened(say(f"{_DOORS[row][0]}.why"), Face.ITALIC, sheet.small_px, area.right - at[0])
            draw_text(surface, why, at, Face.ITALIC, sheet.small_px, theme.faded)
            return
        draft = self._drafts[row - len(_DOORS)].draft
        small_y = y + round(sheet.text_px * 0.22)
        facts = draft_in_words(draft)
        used = draw_text_right(surface, facts, (area.right, small_y), Face.TEXT, sheet.small_px, theme.faded)
        face, title = (Face.TEXT, draft.title) if draft.title else (Face.ITALIC, say("writing.untitled"))
        shown = shortened(title, face, sheet.text_px, used.left - left - sheet.px(30))
        draw_text(surface, shown, (left, y), face, sheet.text_px, theme.ink)


def draft_in_words(draft: Draft) -> str:
    """How far a draft has come."""
    if draft.kept_as:
        return say("from_paper.on_shelf", count=len(draft.pitches))
    if draft.complete:
        return say("from_paper.complete", count=len(draft.pitches))
    return say("from_paper.under_way", count=len(draft.pitches), timed=draft.timed)
