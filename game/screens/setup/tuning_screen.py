"""A tuning of one's own, typed as one would say it: by its notes, by letters alone, by numbers, or by a name. What is
typed is shown string by string at once.
"""

from typing import Final

import pygame

from game.desk.kit.canvas import Align, Canvas, Style
from game.desk.kit.inked import draw_ink
from game.desk.typography import Face
from game.errors import HomefretError
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.neck.tuning import MOST_STRINGS, Tuning, tuning_named
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route
from game.screens.setup.dialog_sheet import LEFT, back_words, bottom_of, draw_foot, draw_running, lay_dialog, width_of
from game.text.catalogue import as_sentence, say, tell

LONGEST_TYPED: Final = 60
_WORDS_UP, _NAMES_WIDTH = 112.0, 220.0


class TuningScreen(BaseScreen):
    """The open strings, as they are or as they would be."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.typed = ""
        self._refused = ""

    @property
    def typing(self) -> bool:
        """Letters are notes here."""
        return True

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._take() if self.typed.strip() else Back()
        if event.key == pygame.K_BACKSPACE:
            self.typed, self._refused = self.typed[:-1], ""
        elif event.unicode and event.unicode.isprintable() and len(self.typed) < LONGEST_TYPED:
            self.typed, self._refused = self.typed + event.unicode, ""
        return None

    def _take(self) -> Route | None:
        """What was typed holds from now on; what is no tuning stays, to be mended."""
        try:
            tuning = tuning_named(self.typed)
            self.context.change_settings(self.context.settings.changed("tuning", tuning.name))
        except HomefretError as error:
            self._refused = as_sentence(tell(error.message))
            return None
        self.context.say(say("tuning.set", tuning=tuning.told))
        return Back()

    @property
    def shown(self) -> Tuning | None:
        """The tuning that was typed, None while that is none; before, the one that is set."""
        try:
            return tuning_named(self.typed if self.typed.strip() else self.context.settings.tuning)
        except HomefretError:
            return None

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, top = lay_dialog(self.context, surface, say("tuning.title"), say("tuning.below"))
        words_top = bottom_of(canvas) - _WORDS_UP
        if self.shown is not None:
            self._draw_strings(canvas, self.shown, top + 14, words_top - 46)
        typed = say("tuning.typed", text=f"{self.typed}…")
        self.context.window.follow(canvas.rect(LEFT, words_top - 30, width_of(canvas), 130))
        after = draw_running(canvas, typed, words_top)
        words = self._refused or self._meant()
        draw_running(canvas, words, after + 6, red=bool(self._refused), quiet=not self._refused)
        next_words = say("keys.take") if self.typed.strip() else back_words()
        draw_foot(self.context, surface, key_hints(("keys.escape", "keys.back")), next_words)
        self.context.window.say_below(f"{typed} {words}", stay=True)
        return True

    def _meant(self) -> str:
        """What the typed text comes to so far."""
        if not self.typed.strip():
            return say("tuning.how")
        return say("tuning.unfinished") if self.shown is None else say("tuning.meant", tuning=self.shown.told)

    def _draw_strings(self, canvas: Canvas, tuning: Tuning, top: float, bottom: float) -> None:
        """The strings as a player sees them, the lowest at the bottom, each with its note."""
        step = (bottom - top) / MOST_STRINGS
        right = LEFT + width_of(canvas) - _NAMES_WIDTH
        for string, sounding in enumerate(tuning.open_strings, start=1):
            y = top + (string - 0.5) * step
            draw_ink(canvas, [(LEFT + 34, y), (right, y)], 1.2 + 0.42 * string, canvas.theme.ink)
            canvas.write(str(string), (LEFT, y + 8), Style(Face.TITLE, 24, canvas.theme.ink))
            canvas.write(self._name(sounding), (right + 24, y + 8), Style(Face.TEXT, 25, canvas.theme.ink))
            hertz = say("tuning.hertz", hertz=440 * 2 ** ((sounding - 69) / 12))
            at = (LEFT + width_of(canvas), y + 8)
            canvas.write(hertz, at, Style(Face.ITALIC, 21, canvas.theme.faded), Align.RIGHT)

    def _name(self, sounding: int) -> str:
        """As the player calls the note, with the octave in which it sounds."""
        pitch = spelled(sounding, Key(0))
        return f"{name_in(spelling_of(pitch), self.context.settings.note_names)} {pitch.octave}"
