"""Today, the desk one sits down to: what this sitting is for, its steps, and the notes that are one's own so far.

Everything can be skipped, and any step be taken first. While it is in sight no step's time runs.
"""

import msgspec
import pygame

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_steps import StepKind
from game.desk.kit.canvas import Canvas
from game.screens.base_screen import BaseScreen
from game.screens.choosing.today_drawing import LEFT, TodayDrawing
from game.screens.choosing.today_sheet import RowState, TodaySheet
from game.screens.context import ScreenContext
from game.screens.kept_picture import KeptPicture
from game.screens.key_hints import KeyPress, key_hints
from game.screens.routes import Route, ToAssignment, ToGoodNight, ToNextMap, ToPlacing, ToPlanned, ToUnseenLine
from game.screens.shown_keys import draw_keys, row_at
from game.screens.tabbed_sheet import SheetTab, draw_next, free_string_told, lay_sheet
from game.text.catalogue import say

_MINUTES_BY = 5
_DOUBLE_CLICK_S = 0.5
_KEYS_RIGHT, _KEYS_UP = 624.0, 26.0
_FEWER, _MORE = KeyPress(pygame.K_LEFT), KeyPress(pygame.K_RIGHT)
_UNSEEN = "F"


class TodayScreen(BaseScreen):
    """Today. `prepared` is what is known of it before the log is open, shown until `read_anew`."""

    tab = SheetTab.TODAY
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext, prepared: TodaySheet | None = None) -> None:
        super().__init__(context)
        self._clicked: tuple[int, float] | None = None
        self._drawing: TodayDrawing | None = None
        self._kept = KeptPicture(context)
        if prepared is None:
            context.session.plan.leave_step()
        self._known = prepared is None
        self._show(prepared or self._made())

    @property
    def sheet(self) -> TodaySheet:
        """What is shown."""
        return self._sheet

    @property
    def chosen(self) -> int:
        """The row that Enter begins; the number of rows where all is done."""
        return self._chosen

    def _made(self) -> TodaySheet:
        """Today as it is now."""
        # What it is made of comes with the coach: the first frame does without.
        from game.screens.choosing.today_words import today_sheet  # noqa: PLC0415

        if self.context.session.sharing.folder is not None:
            from game.screens.choosing.opened_assignment import open_shared  # noqa: PLC0415

            open_shared(self.context)
        return today_sheet(self.context)

    def _show(self, sheet: TodaySheet) -> None:
        self._sheet, self._chosen, self._day = sheet, sheet.standing, self.context.session.today()

    def read_anew(self) -> None:
        """What is known has become more: the log was opened, or entries came from elsewhere."""
        self._known = True
        self._show(self._made())

    def on_tick(self, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        if self._known and self.context.session.today() != self._day:
            self.read_anew()
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        match event.key:
            case pygame.K_ESCAPE:
                return ToGoodNight()
            case pygame.K_RETURN | pygame.K_KP_ENTER:
                return self._begin()
            case pygame.K_f if self._sheet.unseen is not None:
                return self._turn_over()
            case pygame.K_k:
                return ToPlacing()
            case pygame.K_TAB if self._sheet.next_map:
                return ToNextMap()
            case pygame.K_BACKSPACE:
                self._skip()
            case pygame.K_LEFT | pygame.K_RIGHT:
                self._change_minutes(_MINUTES_BY if event.key == pygame.K_RIGHT else -_MINUTES_BY)
            case pygame.K_UP | pygame.K_DOWN:
                self._move(1 if event.key == pygame.K_DOWN else -1)
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._move(-up)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a step, a double click begins it."""
        row = self._drawing.row_at(at) if self._drawing else None
        now_s = self.context.clock.now_s()
        before, self._clicked = self._clicked, None if row is None else (row, now_s)
        if row is None or self._sheet.rows[row].state is RowState.DONE:
            return None
        self._chosen = row
        again = before is not None and before[0] == row and now_s - before[1] <= _DOUBLE_CLICK_S
        return self._begin() if again else None

    def _move(self, by: int) -> None:
        """To the next step that is not done; at the ends nothing."""
        rows, index = self._sheet.rows, self._chosen + by
        while 0 <= index < len(rows) and rows[index].state is RowState.DONE:
            index += by
        if 0 <= index < len(rows):
            self._chosen = index

    def _begin(self) -> Route | None:
        plan = self.context.session.plan
        if self._chosen >= len(self._sheet.rows):
            return ToGoodNight()
        if assignment := self._sheet.rows[self._chosen].assignment:
            return ToAssignment(assignment)
        plan.choose(self._chosen)
        step = plan.step
        if step is None:
            return ToGoodNight()
        if step.kind is not StepKind.REST:
            return ToPlanned()
        if plan.minutes_left is None:
            plan.begin_step()
        else:
            plan.finish_step()
        self.read_anew()
        return None

    def _turn_over(self) -> Route:
        """The unseen line: that of the plan while it is to come, else one more."""
        plan = self.context.session.plan
        ahead = plan.step is not None
        for index, step in enumerate(plan.progress.steps):
            if ahead and index >= plan.progress.at and step.kind is StepKind.FIRST_SIGHT and step.line is not None:
                plan.choose(index)
                return ToPlanned()
        return ToUnseenLine()

    def _skip(self) -> None:
        plan = self.context.session.plan
        if plan.step is None or not self._can_skip or self._sheet.rows[self._chosen].state is RowState.SKIPPED:
            return
        plan.choose(self._chosen)
        plan.finish_step(skipped=True)
        self.read_anew()

    @property
    def _can_skip(self) -> bool:
        """Whether a step of the plan is chosen: an assignment is none."""
        rows = self._sheet.rows
        return self._chosen < len(rows) and not rows[self._chosen].assignment

    def _change_minutes(self, by: int) -> None:
        """More minutes or fewer; what was done stays done, the rest is planned anew."""
        minutes = min(max(self.context.settings.plan_minutes + by, NUMBERS.plan_fewest), NUMBERS.plan_most)
        self.context.change_settings(msgspec.structs.replace(self.context.settings, plan_minutes=minutes))
        self.context.session.plan.replan()
        self.read_anew()

    def resized(self) -> None:
        self._kept.forget()

    def draw(self, surface: pygame.Surface) -> bool:
        self._kept.show(surface, (self._sheet, self._chosen, free_string_told(self.context)), self._draw)
        return True

    def _draw(self, surface: pygame.Surface) -> None:
        context, window = self.context, self.context.window
        canvas, hands = lay_sheet(context, surface, self.tab), bool(free_string_told(context))
        drawing = self._drawing = TodayDrawing(canvas, self._sheet, self._chosen, hands=hands)
        for box, press in zip(drawing.draw_left(), (_FEWER, _MORE), strict=True):
            window.let_click(box, press)
        unseen, ink = drawing.draw_unseen(_UNSEEN), drawing.draw_right()
        if unseen is not None:
            (hint,) = key_hints((_UNSEEN, "keys.unseen"))
            window.let_click(unseen, hint.presses[0])
            window.tell_keys((hint,))
        if ink is not None:
            window.let_click(ink, SheetTab.MAP.press)
        if (chosen := drawing.chosen_rect) is not None:
            window.follow(chosen)
        self._draw_keys(drawing.canvas)
        if self._sheet.rows or self._known:
            self._draw_corner(surface, drawing)

    def _draw_corner(self, surface: pygame.Surface, drawing: TodayDrawing) -> None:
        rows = self._sheet.rows
        if self._chosen < len(rows):
            row = rows[self._chosen]
            draw_next(self.context, surface, row.corner, above=drawing.above_corner(row))
        else:
            draw_next(self.context, surface, say("today.to_end"), above=say("today.all_done"))

    def _draw_keys(self, canvas: Canvas) -> None:
        """The keys that stand nowhere else, at the foot; above them what a guitar in hand does."""
        here = key_hints(
            ("keys.backspace", "keys.skip_step"), ("keys.escape", "keys.good_night"), ("K", "keys.placing")
        )
        if not self._can_skip:
            here = here[1:]
        if self._sheet.next_map:
            here = (*key_hints(("keys.tab", "keys.next_map")), *here)
        elsewhere = key_hints(("keys.updown", "keys.choose_step"), ("keys.arrows", "keys.minutes"))
        draw_keys(self.context, canvas.surface, here, left=LEFT, right=_KEYS_RIGHT, row=row_at(_KEYS_UP))
        self.context.window.tell_keys(elsewhere)
        hands, above = free_string_told(self.context), row_at(_KEYS_UP) + 1
        draw_keys(self.context, canvas.surface, hands, left=LEFT, right=_KEYS_RIGHT, row=above)
