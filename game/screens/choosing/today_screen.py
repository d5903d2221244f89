"""Today: what is worth the minutes there are, in order, each step with its reason. Everything can be skipped."""

import msgspec
import pygame

from game.coach.numbers import NUMBERS
from game.coach.plan.plan_steps import PlanStep, StepKind
from game.desk import pencil
from game.desk.paper import (
    draw_choice_mark,
    draw_heading,
    draw_paragraph,
    draw_text,
    draw_text_right,
)
from game.desk.theme import Colour
from game.desk.typography import Face, wrapped
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Route, ToPlacing, ToPlanned, ToShelf
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say, tell_all

_MINUTES_BY = 5


class TodayScreen(BaseScreen):
    """The plan of today."""

    free_string_commands = True

    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.plan = context.session.plan

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return ToShelf()
        if event.key == pygame.K_RETURN:
            return self._begin()
        if event.key == pygame.K_p:
            return ToPlacing()
        if event.key == pygame.K_BACKSPACE:
            self._skip()
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change_minutes(_MINUTES_BY if event.key == pygame.K_RIGHT else -_MINUTES_BY)
        return None

    def _begin(self) -> Route | None:
        step = self.plan.step
        if step is None:
            return ToShelf()
        if step.kind is StepKind.REST:
            self.plan.begin_step()
            self.plan.finish_step()
            return None
        return ToPlanned()

    def _skip(self) -> None:
        if self.plan.step is not None:
            self.plan.finish_step(skipped=True)

    def _change_minutes(self, by: int) -> None:
        """More minutes or fewer; what was done stays done, the rest is planned anew."""
        minutes = min(max(self.context.settings.plan_minutes + by, NUMBERS.plan_fewest), NUMBERS.plan_most)
        self.context.change_settings(msgspec.structs.replace(self.context.settings, plan_minutes=minutes))
        self.plan.replan()

    def on_gesture(self, plucks: int, now_s: float) -> Route | None:  # noqa: ARG002 - part of the interface
        """The free string plucked once begins, more often skips."""
        if plucks == 1:
            return self._begin()
        self._skip()
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        minutes = say("today.minutes", minutes=self.context.settings.plan_minutes)
        progress, standing = self.plan.progress, self.plan.step
        # What is known must be asked for before it can be told whether it is all there is.
        below = "" if self.plan.complete else say("today.last_weeks")
        draw_heading(surface, sheet, theme, say("today.title"), beside=minutes, below=below)
        y = area.top + sheet.px(88 if below else 76)
        for index, step in enumerate(progress.steps):
            if index < progress.at and progress.practised[index] is None:
                continue
            y = self._draw_step(
                surface, step, y, done=index < progress.at, stands=index == progress.at and bool(standing)
            )
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(104), area.width, sheet.px(60))
        words = say("today.done") if standing is None else say("care.hands")
        draw_paragraph(surface, words, room, Face.ITALIC, sheet.small_px, theme.faded)
        draw_keys(self.context, surface, self._keys())
        return True

    def _draw_step(self, surface: pygame.Surface, step: PlanStep, y: int, *, done: bool, stands: bool) -> int:
        """A step from the height `y` on; returns where the next begins."""
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        left, width = area.left + sheet.px(96), area.width - sheet.px(96)
        colour = theme.faded if done else theme.ink
        if stands:
            draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)
        if done:
            done_mark = _tick(sheet.px(20), theme.pencil)
            surface.blit(done_mark, done_mark.get_rect(topright=(left - sheet.px(20), y + sheet.px(4))))
        else:
            at = (left - sheet.px(18), y)
            draw_text_right(
                surface, say("today.step_minutes", minutes=step.minutes), at, Face.FIGURES, sheet.text_px, colour
            )
        draw_text(surface, say(f"today.{step.kind.value}"), (left, y), Face.TEXT, sheet.text_px, colour)
        y += sheet.px(31)
        if done:
            return y
        for line in wrapped(tell_all(step.reason), Face.ITALIC, sheet.small_px, width)[:2]:
            draw_text(surface, line, (left, y), Face.ITALIC, sheet.small_px, theme.faded)
            y += sheet.px(24)
        return y + sheet.px(9)

    def _keys(self) -> tuple[KeyHint, ...]:
        keys = [("keys.escape", "keys.shelf")]
        if self.plan.step is not None:
            keys = [
                ("keys.enter", "keys.begin"),
                ("keys.backspace", "keys.skip"),
                ("keys.arrows", "keys.minutes"),
                ("P", "keys.placing"),
                *keys,
            ]
        return key_hints(*keys)


def _tick(size: int, colour: Colour) -> pygame.Surface:
    """What is done, as a pencil ticks it off."""
    stroke = ((0.1 * size, 0.55 * size), (0.4 * size, 0.85 * size), (0.95 * size, 0.1 * size))
    return pencil.drawing((stroke,), (size, size), max(1.6, size * 0.11), colour, 12)
