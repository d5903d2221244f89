"""What is drawn while a microphone is set up: the steps at the left, and of the one under way a meter, the strings or
the clicks. In units.
"""

from dataclasses import dataclass
from typing import Final

import pygame

from game.desk.kit.by_pencil import draw_pencil, draw_ring, draw_tick, pencil_words
from game.desk.kit.canvas import Align, Canvas, Style, blend
from game.desk.kit.fitted_line import fitted
from game.desk.kit.inked import draw_dot, draw_ink, draw_shape
from game.desk.typography import Face
from game.instrument.listening.click_delay import click_onsets_s
from game.instrument.listening.input_level import CLOSE_TO_FULL_DB, METER_DB, TOO_QUIET_DB, on_meter
from game.instrument.listening.string_tuning import StringPitch, TuningCheck
from game.screens.setup.dialog_sheet import LEFT, bottom_of, width_of
from game.text.catalogue import say

_STEP_HEIGHT, _STEPS_WIDTH, _GAP = 80.0, 330.0, 46.0
_METER_HEIGHT: Final = 46.0
_SCALE_CENTS: Final = 50.0
_WORDS_IN_FRONT: Final = 100.0
"""Where text is larger than the window, what is asked lies so high in front of the lower end of what is seen."""

WORDS_HEIGHT: Final = 92.0
"""From where a sheet ends up to where its words begin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StepText:
    """What stands on a step: its name, and what came of it once it is done."""

    name: str
    outcome: str = ""
    done: bool = False
    chosen: bool = False


@dataclass(frozen=True, slots=True)
class MicrophoneSheet:
    """The room between the title and the words, from `top` on."""

    canvas: Canvas
    top: float

    @property
    def left(self) -> float:
        """Where the picture of a step begins."""
        return LEFT + _STEPS_WIDTH + _GAP

    @property
    def right(self) -> float:
        """Where it ends."""
        return LEFT + width_of(self.canvas)

    @property
    def bottom(self) -> float:
        """Where the words below it begin."""
        return bottom_of(self.canvas) - WORDS_HEIGHT

    def draw_steps(self, steps: tuple[StepText, ...]) -> pygame.Rect:
        """The steps from above; returns the pixels of the one under way."""
        canvas, theme = self.canvas, self.canvas.theme
        here = canvas.rect(LEFT, self.top, _STEPS_WIDTH, _STEP_HEIGHT)
        for number, step in enumerate(steps):
            baseline = self.top + 38 + number * _STEP_HEIGHT
            face = Face.TITLE if step.chosen else Face.TEXT
            colour = theme.ink if step.chosen or step.done else theme.faded
            name, style = fitted(canvas, step.name, Style(face, 26, colour), _STEPS_WIDTH - 50)
            canvas.write(name, (LEFT + 42, baseline), style)
            if step.chosen:
                draw_pencil(canvas, [(LEFT, baseline - 9), (LEFT + 28, baseline - 11)], 5.5, theme.accent, 8)
                here = canvas.rect(LEFT, baseline - 36, _STEPS_WIDTH, _STEP_HEIGHT)
            elif step.done:
                draw_tick(canvas, (LEFT + 4, baseline - 2), 20, theme.read, 3 + number)
            if step.outcome:
                said, style = fitted(canvas, step.outcome, Style(Face.ITALIC, 22, theme.faded), _STEPS_WIDTH - 42)
                canvas.write(said, (LEFT + 42, baseline + 29), style)
        return here

    def draw_meter(self, *, level_db: float | None, peak_db: float | None, floor_db: float | None) -> pygame.Rect:
        """The level now in ink, the loudest of late as a stroke, the noise in pencil, the aim in red. Returns the
        pixels around the aim, where one looks.
        """
        canvas, theme = self.canvas, self.canvas.theme
        top = self.top + 94
        bottom = top + _METER_HEIGHT
        if level_db is not None:
            end = self._meter_x(level_db)
            bar = [(self.left, top + 5), (end, top + 5), (end, bottom - 5), (self.left, bottom - 5)]
            draw_shape(canvas, bar, theme.ink)
        frame = [
            (self.left, top),
            (self.right, top + 1),
            (self.right, bottom),
            (self.left, bottom - 1),
            (self.left, top),
        ]
        draw_pencil(canvas, frame, 2.4, theme.pencil, 11)
        for level in range(int(METER_DB[0]), int(METER_DB[1]) + 1, 12):
            x = self._meter_x(level)
            draw_pencil(canvas, [(x, bottom + 4), (x, bottom + 12)], 1.6, theme.pencil, 30 - level)
            words = say("mic.decibels", level=level)
            align = Align.LEFT if level == METER_DB[0] else Align.RIGHT if level == METER_DB[1] else Align.CENTRE
            canvas.write(words, (x, bottom + 36), Style(Face.TEXT, 20, theme.faded), align)
        self._draw_aim(top)
        if peak_db is not None and peak_db > METER_DB[0]:
            x = self._meter_x(peak_db)
            draw_ink(canvas, [(x, top - 6), (x, bottom + 6)], 4, theme.ink)
        if floor_db is not None:
            x = self._meter_x(floor_db)
            draw_pencil(canvas, [(x, top - 12), (x, bottom - 2)], 2.6, theme.faded, 5)
            canvas.write(say("mic.noise"), (max(self.left, x - 8), top - 20), Style(Face.ITALIC, 21, theme.faded))
        low = self._meter_x(TOO_QUIET_DB) - 60
        return canvas.rect(low, top - 56, self.right - low, _METER_HEIGHT + 106 + _WORDS_IN_FRONT)

    def _meter_x(self, level_db: float) -> float:
        return self.left + on_meter(level_db) * (self.right - self.left)

    def _draw_aim(self, top: float) -> None:
        low, high, theme = self._meter_x(TOO_QUIET_DB), self._meter_x(CLOSE_TO_FULL_DB), self.canvas.theme
        y = top - 14
        bracket = [(low, y + 8), (low + 2, y), (high - 2, y - 1), (high, y + 8)]
        draw_pencil(self.canvas, bracket, 2.6, theme.accent, 14)
        style = Style(Face.ITALIC, 23, theme.accent)
        pencil_words(self.canvas, say("mic.aim"), ((low + high) / 2, y - 12), style, Align.CENTRE)

    def draw_so_far(self, share: float) -> None:
        """How much was heard of what is wanted, 0 to 1: a line of the pen that grows."""
        canvas, theme, y = self.canvas, self.canvas.theme, self.top + 250
        draw_pencil(canvas, [(self.left, y), (self.right, y)], 2, blend(theme.paper, theme.pencil, 0.6), 21)
        if share > 0:
            draw_ink(canvas, [(self.left, y), (self.left + share * (self.right - self.left), y)], 5, theme.read)

    def draw_strings(self, check: TuningCheck, *, left: float | None = None) -> pygame.Rect:
        """Each string, the lowest at the bottom: empty before it is heard, pencil out of tune, ink in tune. Beside it
        stands how far it is, on a scale and in words. Returns the pixels of what is told of the one that sounds, or of
        the first.
        """
        canvas = self.canvas
        left = self.left if left is None else left
        step = (self.bottom - self.top - 10) / len(check.open_strings)
        words_left = self.right - 196
        scale = words_left - 200, words_left - 24
        looked_at = check.now.string if check.now is not None else 1
        for string in range(1, len(check.open_strings) + 1):
            y = self.top + 10 + (string - 0.5) * step
            cents = check.cents[string - 1]
            sounds = check.now is not None and check.now.string == string
            pitch = check.now if sounds else StringPitch(string, cents) if cents is not None else None
            self._draw_string(string, y, (left, scale[0] - 30), pitch)
            self._draw_cents(y, scale, pitch, sounds=sounds)
            if sounds:
                draw_ring(canvas, (left + 8, y), 34, 2.6, canvas.theme.accent, string)
            if pitch is not None:
                face, size = (Face.TITLE, 30) if sounds else (Face.TEXT, 24)
                said, style = fitted(canvas, tuning_in_words(pitch), Style(face, size, canvas.theme.ink), 194)
                canvas.write(said, (words_left, y + 8), style)
        top = self.top + 10 + (looked_at - 1) * step
        return canvas.rect(scale[0] - 40, top, self.right - scale[0] + 40, step + _WORDS_IN_FRONT)

    def _draw_string(self, string: int, y: float, ends: tuple[float, float], pitch: StringPitch | None) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        left, right = ends
        canvas.write(
            str(string), (left + 8, y + 8), Style(Face.TITLE, 24, theme.ink if pitch else theme.faded), Align.CENTRE
        )
        width = 1.2 + 0.42 * string
        if pitch is None:
            draw_ink(canvas, [(left + 36, y), (right, y)], width, blend(theme.paper, theme.pencil, 0.5))
        elif pitch.in_tune:
            draw_ink(canvas, [(left + 36, y), (right, y)], width, theme.read)
        else:
            draw_pencil(canvas, [(left + 36, y), (right, y)], width + 0.6, theme.pencil, 40 + string)

    def _draw_cents(self, y: float, ends: tuple[float, float], pitch: StringPitch | None, *, sounds: bool) -> None:
        canvas, theme = self.canvas, self.canvas.theme
        middle, half = (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2
        quiet = blend(theme.paper, theme.pencil, 0.6)
        draw_pencil(canvas, [(ends[0], y), (ends[1], y)], 1.4, quiet, 60)
        draw_pencil(canvas, [(middle, y - 13), (middle, y + 13)], 2.2, theme.accent if sounds else quiet, 61)
        if pitch is None:
            return
        x = middle + half * min(1.0, max(-1.0, pitch.cents / _SCALE_CENTS))
        width = 26 if sounds else 17
        if pitch.in_tune:
            draw_dot(canvas, (x, y), width, theme.read)
        else:
            draw_dot(canvas, (x, y), width, theme.paper, ring=theme.ink)

    def draw_clicks(self, gone: int) -> None:
        """The clicks at their irregular times, in ink once they have sounded."""
        canvas, theme, y = self.canvas, self.canvas.theme, self.top + 130
        onsets_s = click_onsets_s()
        draw_pencil(canvas, [(self.left, y), (self.right, y)], 1.6, blend(theme.paper, theme.pencil, 0.6), 23)
        for number, onset_s in enumerate(onsets_s):
            x = self.left + 14 + onset_s / onsets_s[-1] * (self.right - self.left - 28)
            if number < gone:
                draw_dot(canvas, (x, y), 20, theme.read)
            else:
                draw_dot(canvas, (x, y), 20, theme.paper)
                draw_ring(canvas, (x, y), 20, 2, theme.pencil, number)

    def draw_choices(self, rows: tuple[tuple[int, str, str], ...], chosen: int) -> tuple[pygame.Rect, ...]:
        """What can be chosen: the string that chooses it in a ring, its words and a quieter line; returns the pixels of
        each.
        """
        canvas, theme = self.canvas, self.canvas.theme
        step = min(92.0, (self.bottom - self.top) / max(1, len(rows)))
        found = []
        for number, (string, words, below) in enumerate(rows):
            baseline = self.top + 38 + number * step
            here = number == chosen
            if here:
                draw_pencil(
                    canvas, [(self.left - 40, baseline - 9), (self.left - 14, baseline - 11)], 5.5, theme.accent, 8
                )
            colour = theme.accent if here else theme.ink
            draw_ring(canvas, (self.left + 16, baseline - 8), 34, 2.4, colour, 70 + string)
            canvas.write(str(string), (self.left + 16, baseline), Style(Face.TITLE, 23, colour), Align.CENTRE)
            width = self.right - self.left - 50
            text, style = fitted(canvas, words, Style(Face.TITLE if here else Face.TEXT, 26, theme.ink), width)
            canvas.write(text, (self.left + 50, baseline), style)
            text, style = fitted(canvas, below, Style(Face.ITALIC, 21, theme.faded), width)
            canvas.write(text, (self.left + 50, baseline + 30), style)
            found.append(canvas.rect(self.left - 44, baseline - 32, self.right - self.left + 44, step))
        return tuple(found)


def tuning_in_words(pitch: StringPitch) -> str:
    """How a string is: in tune, or so many cents too low or too high."""
    if pitch.in_tune:
        return say("mic.in_tune")
    return say("mic.flat" if pitch.cents < 0 else "mic.sharp", cents=round(abs(pitch.cents)))
