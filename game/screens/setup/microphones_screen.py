"""How a plain guitar is heard: through which microphone or audio interface, or not at all, and its player marks it.

Nothing listens before it is chosen here. Which inputs there are is asked anew all the while, for one may be plugged in.
"""

import pygame

from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route, ToFirstStart, ToMicrophone
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.answered_beside import AnsweredBeside
from game.screens.setup.dialog_sheet import bottom_of, draw_foot, draw_row, draw_running, lay_dialog
from game.screens.setup.microphone_kept import choose_microphone, mark_oneself, microphone_kept
from game.text.catalogue import as_sentence, say, tell

ASKED_AGAIN_S = 4.0
_ROW, _WORDS = 76.0, 84.0


class MicrophonesScreen(BaseScreen):
    """The inputs by their names, and the way without any. `first` where the first sheet led here."""

    def __init__(self, context: ScreenContext, *, first: bool = False) -> None:
        super().__init__(context)
        self._first = first
        self._chosen = 0
        # Whether the player has chosen a row: before the first answer, too, for asking may take seconds.
        self._has_moved = False
        self._asked: AnsweredBeside[tuple[str, ...]] | None = AnsweredBeside(context.devices.microphone.inputs)
        self._answered_s = 0.0
        self.inputs: tuple[str, ...] | None = None
        # The upper and lower ends of the rows in sight, in pixels.
        self._row_ends: dict[int, tuple[int, int]] = {}

    @property
    def rows(self) -> tuple[str, ...]:
        """The inputs that are there, then the one that is chosen where it is not; last "" for none of them."""
        there = self.inputs or ()
        kept = self.context.settings.microphone
        return (*there, *(() if not kept or kept in there else (kept,)), "")

    @property
    def _back(self) -> Route:
        """To where one came from. The first sheet is no place that Esc remembers."""
        return ToFirstStart() if self._first else Back()

    @property
    def _name(self) -> str:
        return self.rows[min(self._chosen, len(self.rows) - 1)]

    def on_tick(self, now_s: float) -> Route | None:
        if self._asked is None:
            if now_s - self._answered_s >= ASKED_AGAIN_S:
                self._asked = AnsweredBeside(self.context.devices.microphone.inputs)
        elif self._asked.there:
            asked, self._asked, self._answered_s = self._asked, None, now_s
            self._take_over(asked.answer())
        return None

    def _take_over(self, inputs: tuple[str, ...]) -> None:
        """The row that is chosen stays chosen where others come before it."""
        name, stays = self._name, self.inputs is not None or self._has_moved
        self.inputs = inputs
        if stays and name in self.rows:
            self._chosen = self.rows.index(name)
        elif not stays:
            kept = self.context.settings.microphone
            self._chosen = self.rows.index(kept) if kept in self.rows and kept else 0

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return self._back
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._has_moved = True
            self._chosen = (min(self._chosen, len(self.rows) - 1) + (1 if event.key == pygame.K_DOWN else -1)) % len(
                self.rows
            )
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._take(self._name)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a row."""
        for row, (top, bottom) in self._row_ends.items():
            if top <= at[1] < bottom:
                self._chosen, self._has_moved = row, True
        return None

    def _take(self, name: str) -> Route:
        """Listen through an input from now on, and set it up; or listen to nothing."""
        if not name:
            mark_oneself(self.context)
            return self._back
        choose_microphone(self.context, name)
        return ToMicrophone(name, first=self._first)

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, top = lay_dialog(self.context, surface, say("mics.title"), say("mics.below"))
        top += 24
        rows, chosen = self.rows, min(self._chosen, len(self.rows) - 1)
        shown = max(1, int((bottom_of(canvas) - _WORDS - top) / _ROW))
        first = first_in_sight(chosen=chosen, shown=shown, count=len(rows))
        self._row_ends = {}
        for row, name in enumerate(rows[first : first + shown], start=first):
            baseline = top + (row - first) * _ROW
            self._row_ends[row] = canvas.px(baseline - 30), canvas.px(baseline - 30 + _ROW)
            words = name or say("mics.none")
            right = say("mics.chosen") if self._is_chosen(name) else ""
            here = draw_row(canvas, baseline, words, below=self._below(name), right=right, chosen=row == chosen)
            if row == chosen:
                self.context.window.follow(here)
        said, wanting = self._said()
        draw_running(canvas, said, bottom_of(canvas) - _WORDS + 36, red=wanting)
        keys = key_hints(("keys.updown", "keys.choose"), ("keys.escape", "keys.back"))
        draw_foot(self.context, surface, keys, say("keys.listen" if self._name else "keys.mark_oneself"))
        self.context.window.say_below(said, stay=True)
        return True

    def _is_chosen(self, name: str) -> bool:
        settings = self.context.settings
        return settings.by_microphone and name == settings.microphone if name else not self.context.listens

    def _below(self, name: str) -> str:
        """How an input was set up, or what comes of listening to none."""
        if not name:
            return say("mics.none.why")
        if self.inputs is not None and name not in self.inputs:
            return say("instruments.not_there")
        kept = microphone_kept(self.context, name)
        if kept.set_up:
            return say("mics.set_up", channel=kept.channel, delay=kept.delay_ms)
        return say("mics.new")

    def _said(self) -> tuple[str, bool]:
        """What is said below the rows, and whether something is wanting."""
        if self.inputs is None:
            return say("mics.asking"), False
        if self.inputs:
            return say("mics.advice"), False
        trouble = self.context.devices.microphone.trouble
        return (as_sentence(tell(trouble)) if trouble else say("mics.no_input")), True
