"""A microphone is set up by playing, in under a minute: two quiet seconds, the level, the open strings, the delay. Each
step goes on by itself once it has heard enough; Enter goes on without it. What is found is kept by the input's name.
"""

from typing import Final

import pygame

from game.instrument.decoding.played import NoteStarted
from game.instrument.listening.input_level import ENOUGH_S
from game.instrument.listening.noise_floor import QUIET_S
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import NamedKey, key_hints
from game.screens.routes import Back, Route, ToFirstStart, ToToday
from game.screens.setup.delay_of_sound import AFTER_ASKING_S, DelayStep
from game.screens.setup.dialog_sheet import bottom_of, draw_foot, draw_running, lay_dialog
from game.screens.setup.microphone_kept import keep_of_microphone, microphone_kept
from game.screens.setup.microphone_sheet import MicrophoneSheet, StepText
from game.screens.setup.microphone_steps import LOOKED_AT_S, LevelStep, MicrophoneStep, QuietStep, StringsStep
from game.text.catalogue import as_sentence, say, tell

MOST_CHANNELS: Final = 8
"""Channels that the arrows go through: as many as an interface on a desk has (trade). Others are set in the file."""

_WORDS_UP, _ADVICE_STAYS_S = 66.0, 3.0


class MicrophoneScreen(BaseScreen):
    """One input being set up. `first` where it was chosen on the first sheet, which comes next."""

    def __init__(self, context: ScreenContext, microphone: str, *, first: bool = False) -> None:
        super().__init__(context)
        self._name, self._first = microphone, first
        self._choice_boxes: tuple[pygame.Rect, ...] = ()
        self._begin()

    def _begin(self) -> None:
        context, name = self.context, self._name
        self.quiet = QuietStep(context, name)
        self.level = LevelStep(context, name)
        self.strings = StringsStep(context)
        self.delay = DelayStep(context, name)
        self.number = 0
        # When the step under way was done.
        self._done_s: float | None = None

    @property
    def steps(self) -> tuple[MicrophoneStep, ...]:
        """In their order."""
        return self.quiet, self.level, self.strings, self.delay

    @property
    def step(self) -> MicrophoneStep:
        """The one under way; the last stays once all are over."""
        return self.steps[self.number]

    @property
    def over(self) -> bool:
        """Whether the last of them is done."""
        return self.delay.done

    @property
    def moving(self) -> bool:
        return self.delay.moving or (not self.over and self.context.devices.microphone.level is not None)

    def on_tick(self, now_s: float) -> Route | None:
        self.step.tick(now_s)
        if not self.step.done:
            return None
        if self._done_s is None:
            self._done_s = now_s
        stays_s = _ADVICE_STAYS_S if self.step.advice else LOOKED_AT_S
        if not self.over and now_s - self._done_s >= stays_s:
            self._go_on()
        return None

    def _go_on(self) -> None:
        self._done_s = None
        self.number = min(self.number + 1, len(self.steps) - 1)
        if self.step is self.level:
            # What no note is under is known by now.
            self.level = LevelStep(self.context, self._name)

    def on_note(self, event: NoteStarted) -> Route | None:
        if event.note.source != self._name:
            return None
        if not self.over:
            self.step.hear(event)
            return None
        # The lowest string once more, when what was chosen with it is over.
        after = self._done_s is not None and event.note.started_s > self._done_s + AFTER_ASKING_S
        return self._leave() if after and self.delay.is_string(self.delay.lowest_string, event.note.sounding) else None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            self.delay.silence()
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._enter()
        if event.key == pygame.K_BACKSPACE:
            self.delay.silence()
            self._begin()
        elif event.key in (pygame.K_UP, pygame.K_DOWN):
            self.delay.choose(1 if event.key == pygame.K_DOWN else -1)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT) and self.step is self.level:
            self._change_channel(1 if event.key == pygame.K_RIGHT else -1)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click takes what is asked."""
        for number, box in enumerate(self._choice_boxes):
            if box.collidepoint(at):
                self.delay.chosen = number
                self.delay.take()
                return None
        return None

    def _enter(self) -> Route | None:
        """Go on without the step, take what is chosen, or leave."""
        if self.over:
            return self._leave()
        if self.step is self.delay:
            self.delay.take()
        else:
            self._go_on()
        return None

    def _leave(self) -> Route:
        return ToFirstStart() if self._first else ToToday()

    def _change_channel(self, by: int) -> None:
        """Another channel of the same input, round the end."""
        if self._channels > 1:
            channel = microphone_kept(self.context, self._name).channel
            keep_of_microphone(self.context, self._name, channel=(channel - 1 + by) % self._channels + 1)
            self.level.other_channel()

    @property
    def _channels(self) -> int:
        """How many channels there are to go through."""
        return min(self.context.devices.microphone.channels_of(self._name) or MOST_CHANNELS, MOST_CHANNELS)

    def draw(self, surface: pygame.Surface) -> bool:
        below = say("mic.below", name=self._name, channel=microphone_kept(self.context, self._name).channel)
        canvas, top = lay_dialog(self.context, surface, say("mic.title"), below)
        sheet = MicrophoneSheet(canvas, top + 8)
        self.context.window.follow(sheet.draw_steps(tuple(map(self._step_text, self.steps))))
        self._choice_boxes = ()
        trouble = self.context.devices.microphone.trouble
        words = as_sentence(tell(trouble)) if trouble else self._words()
        if trouble is None:
            self._draw_step(sheet)
        advice = "" if trouble else self.step.advice or self._by_itself()
        words_top = bottom_of(canvas) - _WORDS_UP
        after = draw_running(canvas, words, words_top, red=trouble is not None)
        if advice:
            draw_running(canvas, advice, after, quiet=True)
        draw_foot(self.context, surface, key_hints(*self._keys()), self._next_words())
        self.context.window.say_below(" ".join(filter(None, (words, advice))), stay=True)
        return True

    def _step_text(self, step: MicrophoneStep) -> StepText:
        chosen = step is self.step and not self.over
        return StepText(name=say(f"mic.step.{step.name}"), outcome=step.outcome, done=bool(step.outcome), chosen=chosen)

    def _draw_step(self, sheet: MicrophoneSheet) -> None:
        level = self.context.devices.microphone.level
        if self.step is self.strings:
            self.context.window.follow(sheet.draw_strings(self.strings.check))
        elif self.step is self.delay:
            self._draw_delay(sheet)
        else:
            floor_db = self.quiet.found.rms_db if self.quiet.found else None
            peak_db = self.level.check.peak_db if self.step is self.level else None
            level_db = level.rms_db if level else None
            self.context.window.follow(sheet.draw_meter(level_db=level_db, peak_db=peak_db, floor_db=floor_db))
            share = self.quiet.lasted_s / QUIET_S if self.step is self.quiet else self.level.check.good_s / ENOUGH_S
            sheet.draw_so_far(min(1.0, share))

    def _draw_delay(self, sheet: MicrophoneSheet) -> None:
        rows = tuple(
            (choice.string, say(f"mic.choice.{choice.word}"), say(f"mic.choice.{choice.word}.why"))
            for choice in self.delay.choices
        )
        if rows:
            self._choice_boxes = sheet.draw_choices(rows, min(self.delay.chosen, len(rows) - 1))
            self.context.window.follow(self._choice_boxes[min(self.delay.chosen, len(rows) - 1)])
        elif self.delay.played is None and self.delay.heard_back:
            sheet.draw_clicks(self.delay.clicks_gone)

    def _words(self) -> str:
        if self.step is self.delay:
            asks = say("mic.delay.by_playing") if self.delay.choices else ""
            return " ".join(filter(None, (self.delay.words, asks)))
        return self.step.words if self.context.devices.microphone.level else say("mic.opening")

    def _by_itself(self) -> str:
        """How it goes on without a key."""
        if self.over:
            return say("mic.over")
        return "" if self.step is self.delay and self.delay.choices else say("mic.by_itself")

    def _keys(self) -> tuple[NamedKey, ...]:
        keys: list[NamedKey] = []
        if self.step is self.level and self._channels > 1:
            keys.append(("keys.arrows", "keys.change_channel"))
        if self.step is self.delay and len(self.delay.choices) > 1:
            keys.append(("keys.updown", "keys.choose"))
        return (*keys, ("keys.backspace", "keys.again"), ("keys.escape", "keys.back"))

    def _next_words(self) -> str:
        """What Enter does; nothing while clicks are listened to, and that is said."""
        if self.over:
            return say("keys.done" if self._first else "corner.today")
        if self.step is self.delay:
            return say("keys.take") if self.delay.choices else ""
        return say("keys.on" if self.step.done else "keys.on_without")
