"""The picture of the map: its title, staff, neck and margin, the corner, and the keys."""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.boxed_key import HIT_HEIGHT, draw_key, key_width
from game.desk.kit.canvas import Canvas, Point, Style
from game.desk.kit.fitted_line import fitted
from game.desk.part_in_view import Followed
from game.desk.typography import Face
from game.neck.neck_map import roman
from game.player.settings import Stretches
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, NamedKey, key_hints
from game.screens.setup.best_positions import BestPositions, draw_best_positions
from game.screens.setup.map_choice import next_other
from game.screens.setup.map_margin import MapMargin
from game.screens.setup.map_pencil import MapPencil
from game.screens.setup.map_sheet import LEFT, RIGHT_MARGIN, MapSheet
from game.screens.setup.map_words import given_up
from game.screens.setup.shown_map import ShownMap
from game.screens.shown_keys import draw_keys, foot_top
from game.screens.tabbed_sheet import SheetTab, draw_next, free_string_told, lay_sheet
from game.text.catalogue import say

_ARROWS_LEFT: Final = 742.0
_TO_CORNER: Final = 24.0


@dataclass(frozen=True, slots=True)
class MapView:
    """The picture of the map as it is now."""

    context: ScreenContext
    shown: ShownMap

    def draw(self, surface: pygame.Surface) -> tuple[float, tuple[Point, ...]]:
        """Draw it; returns where the keys at the foot begin, and the middles of the heads on the staff."""
        shown, canvas = self.shown, lay_sheet(self.context, surface, SheetTab.MAP)
        corner = draw_next(self.context, surface, self._next)
        right = corner.left / canvas.sheet.unit - _TO_CORNER
        keys = self._keys()
        draw_keys(self.context, surface, keys, most_rows=2, right=right)
        foot = foot_top(self.context, surface, keys, most_rows=2, right=right)
        if shown.best is not None and shown.asked is None:
            return foot, self._draw_best(canvas, shown.best, foot)
        return foot, self._draw_map(canvas, foot)

    @property
    def _next(self) -> str:
        """What the corner leads to."""
        shown = self.shown
        if shown.asked is not None:
            return shown.asked.yes
        if shown.best is not None:
            return say("map.yes_position", position=roman(shown.best.best.neck_map.position))
        return say("map.yes_home" if shown.looked is not None and shown.looked.other else "corner.today")

    def _draw_map(self, canvas: Canvas, foot: float) -> tuple[Point, ...]:
        shown, names = self.shown, self.context.settings.note_names
        sheet = shown.sheet(foot)
        count, position = len(sheet.neck_map.homes), self._positions(sheet)
        self._draw_head(canvas, say("map.title"), say("map.position", position=position, count=count))
        self._draw_below_head(canvas, given_up(sheet.neck_map, names))
        heads = sheet.draw_staff(canvas)
        sheet.draw_neck(canvas, names)
        pencil = MapPencil(canvas, sheet, heads, names)
        pencil.draw_seam()
        if shown.looked is not None:
            pencil.draw_looked_at(shown.looked)
        if shown.asked is None:
            self._draw_position_keys(canvas, sheet.numerals_y - 8)
        self._draw_margin(canvas, sheet)
        if (followed := sheet.followed(heads)) is not None:
            most, core = (canvas.rect(*one) for one in followed)
            self.context.window.follow(Followed(most, core))
        return heads

    @staticmethod
    def _positions(sheet: MapSheet) -> str:
        return say("map.positions_in_row", positions=tuple(roman(one) for one in sheet.neck_map.positions))

    def _draw_margin(self, canvas: Canvas, sheet: MapSheet) -> None:
        shown, window = self.shown, self.context.window
        margin = MapMargin(canvas, self.context, sheet, shown.counted)
        if shown.asked is not None:
            margin.draw_question(shown.asked, *shown.asked_figures)
            window.follow(margin.question_rect)
            window.say_below(shown.asked.told, stay=True)
        elif shown.looked is None:
            margin.draw_whole(shown.before, key_hints(*self._tools()))
        else:
            margin.draw_note(shown.looked)

    def _draw_best(self, canvas: Canvas, best: BestPositions, foot: float) -> tuple[Point, ...]:
        """The positions side by side, and above them the notes of the one that is chosen."""
        self._draw_head(canvas, say("map.best.title"), "")
        self._draw_below_head(canvas, say("map.best.explain"))
        heads = self.shown.sheet(foot, best.best.neck_map).draw_staff(canvas)
        here = self.context.settings.position
        self.context.window.follow(draw_best_positions(canvas, best, foot, here, self.context.settings.note_names))
        return heads

    def _draw_head(self, canvas: Canvas, heading: str, below: str) -> None:
        """The title, and what stands beside it."""
        theme = canvas.theme
        title = Style(Face.TITLE, 42, theme.ink)
        canvas.write(heading, (LEFT, 116), title)
        left = LEFT + canvas.width_of(heading, title) + 20
        text, style = fitted(canvas, below, Style(Face.ITALIC, 24, theme.faded), self._right(canvas) - left)
        canvas.write(text, (left, 116), style)

    def _draw_below_head(self, canvas: Canvas, sums: str) -> None:
        text, style = fitted(canvas, sums, Style(Face.TEXT, 22, canvas.theme.ink), self._right(canvas) - LEFT)
        canvas.write(text, (LEFT, 150), style)

    @staticmethod
    def _right(canvas: Canvas) -> float:
        return canvas.sheet.size[0] / canvas.sheet.unit - RIGHT_MARGIN

    def _draw_position_keys(self, canvas: Canvas, middle: float) -> None:
        """The arrows beside the positions."""
        x = _ARROWS_LEFT
        for hint in key_hints(("keys.arrows", "keys.position")):
            self.context.window.tell_keys((hint,))
            for label, press in zip(hint.labels, hint.presses, strict=True):
                draw_key(canvas, label, (x, middle))
                width = key_width(canvas, label)
                self.context.window.let_click(canvas.rect(x, middle - HIT_HEIGHT / 2, width, HIT_HEIGHT), press)
                x += width + 4

    def _tools(self) -> list[NamedKey]:
        """What changes all of the map."""
        settings = self.context.settings
        return [
            ("1", "keys.best_maps"),
            ("2", "keys.stretches" if settings.stretches is Stretches.NONE else "keys.no_stretches"),
            ("3", "keys.no_open_strings" if settings.open_strings else "keys.open_strings"),
            ("4", "keys.print_map"),
        ]

    def _keys(self) -> tuple[KeyHint, ...]:
        shown, settings = self.shown, self.context.settings
        history = self.context.session.map_history
        if shown.asked is not None:
            return key_hints(("keys.escape", "keys.leave_as_is"))
        if shown.best is not None:
            return key_hints(("keys.updown", "keys.choose"), ("keys.escape", "keys.the_map"))
        looked = shown.looked
        other = looked is not None and next_other(settings.neck_map(), looked) != looked
        keys = key_hints(
            ("keys.updown", "keys.another_note"),
            *((("5", "keys.several_maps"), ("6", "keys.map_by_playing")) if looked is None else ()),
            *((("keys.tab", "keys.another_place"),) if other else ()),
            ("F12", "keys.less_neck" if shown.more else "keys.more_neck"),
            *((("keys.backspace", "keys.take_back"),) if history.can_take_back(settings) else ()),
            *((("Y", "keys.do_again"),) if history.can_do_again(settings) else ()),
            *((("keys.delete", "map.plain"),) if settings.choices or settings.second else ()),
            ("keys.escape", "keys.today" if looked is None else "keys.whole_map"),
        )
        return (*keys, *free_string_told(self.context))
