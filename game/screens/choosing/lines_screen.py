"""The folder of unseen lines. They are undated: one a sitting is planned, and more may be taken."""

from typing import Final

import msgspec
import pygame

from game.coach.plan.plan_steps import StepKind
from game.desk.kit.canvas import Canvas
from game.desk.typography import with_music_signs
from game.player.settings import OPTIONS
from game.screens.base_screen import BaseScreen
from game.screens.choosing.fresh_requests import keys_of_level
from game.screens.choosing.lines_read import LineRead, lines_read_or_none
from game.screens.choosing.lines_sheet import ChoiceText, LinesSheet, ReadText
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToPlanned, ToUnseenLine
from game.screens.shown_keys import draw_keys
from game.screens.tabbed_sheet import ENTER, SheetTab, draw_next, lay_sheet
from game.text.catalogue import say, tell

_TO_CORNER: Final = 24.0


class LinesScreen(BaseScreen):
    """The folder. Enter turns a line over; the arrows choose its level and key."""

    tab = SheetTab.LINE
    free_string_commands = True
    at_rest = True

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        # The key of the next line, "" for whichever comes.
        self.key = ""
        self._changed = False
        self._row_changed: int | None = None
        self.lines: tuple[LineRead, ...] = ()
        self.read_anew()

    def read_anew(self) -> None:
        """More may have been read, also on another computer."""
        self.lines = lines_read_or_none(self.context.session)

    @property
    def _planned(self) -> int | None:
        """Which step of the plan that is still to come is such a line; None for none."""
        plan = self.context.session.plan
        if plan.step is None:
            return None
        steps = enumerate(plan.progress.steps)
        ahead = ((at, step) for at, step in steps if at >= plan.progress.at and step.kind is StepKind.FIRST_SIGHT)
        return next((at for at, step in ahead if step.line is not None), None)

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._turn_over()
        if event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change_level(1 if event.key == pygame.K_RIGHT else -1)
        elif event.key in (pygame.K_UP, pygame.K_DOWN):
            self._change_key(1 if event.key == pygame.K_DOWN else -1)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """Left or right of level and key a click changes them."""
        sheet = LinesSheet(Canvas(pygame.Surface((1, 1)), self.context.sheet, self.context.theme))
        level, key = (sheet.step_at(row, text, at) for row, text in enumerate(self._choices()))
        if level:
            self._change_level(level)
        if key:
            self._change_key(key)
        return None

    def _turn_over(self) -> Route:
        """The line of the plan while it is to come and nothing else was chosen, else one more."""
        planned = self._planned
        if planned is None or self._changed:
            return ToUnseenLine(self.key)
        self.context.session.plan.choose(planned)
        return ToPlanned()

    def _change_level(self, by: int) -> None:
        settings, option = self.context.settings, OPTIONS["line_level"]
        level = option.stepped(settings.line_level, by)
        self.context.change_settings(msgspec.structs.replace(settings, line_level=level))
        self._changed, self._row_changed = True, 0
        if self.key not in keys_of_level(level, settings.neck_map()):
            self.key = ""

    def _change_key(self, by: int) -> None:
        keys = ("", *keys_of_level(self.context.settings.line_level, self.context.settings.neck_map()))
        self.key = keys[(keys.index(self.key) + by) % len(keys)]
        self._changed, self._row_changed = True, 1

    def _choices(self) -> tuple[ChoiceText, ChoiceText]:
        level = self.context.settings.line_level
        value = tell(OPTIONS["line_level"].value_words(level))
        key = with_music_signs(self.key) if self.key else say("line.any_key")
        return (
            ChoiceText(name=say("line.level"), value=value, below=say("line.level.why")),
            ChoiceText(
                name=say("line.key"),
                value=key,
                below=say(
                    "line.key.why",
                    keys=tuple(map(with_music_signs, keys_of_level(level, self.context.settings.neck_map()))),
                ),
            ),
        )

    def draw(self, surface: pygame.Surface) -> bool:
        sheet = LinesSheet(lay_sheet(self.context, surface, SheetTab.LINE))
        sheet.draw_heading(say("line.title"), say("line.once"))
        planned = self._planned is not None and not self._changed
        below = say("line.of_today" if planned else "line.one_more")
        self.context.window.let_click(sheet.draw_slip(say("today.unseen"), below), ENTER)
        for row, text in enumerate(self._choices()):
            sheet.draw_choice(row, text)
            if row == self._row_changed:
                self.context.window.follow(sheet.row_rect(row))
        sheet.draw_waiting(self._waiting())
        sheet.draw_read(say("line.last_ones"), self._read(), say("line.none_read"))
        corner = draw_next(self.context, surface, say("line.turn_over"))
        keys = key_hints(("keys.arrows", "keys.level"), ("keys.updown", "keys.key"), ("keys.escape", "keys.today"))
        right = corner.left / sheet.canvas.sheet.unit - _TO_CORNER
        draw_keys(self.context, surface, keys, most_rows=2, right=right)
        return True

    def _waiting(self) -> str:
        """How many of today's wait, and how many were read."""
        today = self.context.session.today()
        read = sum(line.sight.day == today for line in self.lines)
        steps = self.context.session.plan.progress.steps
        of_plan = any(step.kind is StepKind.FIRST_SIGHT and step.line is not None for step in steps)
        waits = say(
            "line.waits" if self._planned is not None else "line.none_waits" if of_plan else "line.none_planned"
        )
        return f"{waits} {say('line.read_today', count=read)}" if read else waits

    def _read(self) -> tuple[ReadText, ...]:
        return tuple(
            ReadText(
                name=say("line.read", level=line.level, key=with_music_signs(line.key)),
                right=say("line.right", right=line.sight.clean, notes=line.sight.notes),
                share=line.sight.clean / line.sight.notes,
            )
            for line in reversed(self.lines)
        )
