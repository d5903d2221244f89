"""The tuner: the open strings of the player's tuning, each with how far it is out of tune, as long as one wishes."""

import pygame

from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route
from game.screens.setup.dialog_sheet import LEFT, back_words, bottom_of, draw_foot, draw_running, lay_dialog
from game.screens.setup.microphone_sheet import MicrophoneSheet
from game.screens.setup.microphone_steps import StringsStep
from game.text.catalogue import as_sentence, say, tell

_WORDS_UP = 66.0


class TunerScreen(BaseScreen):
    """Every string is told by its pitch; in tune it is drawn in ink."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self.strings = StringsStep(context)

    @property
    def moving(self) -> bool:
        return self.context.devices.microphone.level is not None

    def on_tick(self, now_s: float) -> Route | None:
        self.strings.tick(now_s)
        return None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_ESCAPE, pygame.K_RETURN, pygame.K_KP_ENTER):
            return Back()
        if event.key == pygame.K_BACKSPACE:
            self.strings = StringsStep(self.context)
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        tuning = self.context.settings.neck_map().tuning.told
        canvas, top = lay_dialog(self.context, surface, say("tuner.title"), say("tuner.below", tuning=tuning))
        self.context.window.follow(MicrophoneSheet(canvas, top + 8).draw_strings(self.strings.check, left=LEFT))
        trouble = self.context.devices.microphone.trouble
        words = as_sentence(tell(trouble)) if trouble else self.strings.words
        draw_running(canvas, words, bottom_of(canvas) - _WORDS_UP + 20, red=trouble is not None)
        draw_foot(
            self.context,
            surface,
            key_hints(("keys.backspace", "keys.again"), ("keys.escape", "keys.back")),
            back_words(),
        )
        self.context.window.say_below(words, stay=True)
        return True
