"""A device is set up by playing its open strings, from the lowest up, and a slide. What is found is kept by name."""

from dataclasses import replace

import msgspec
import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.inked import draw_ink
from game.desk.typography import Face
from game.errors import InstrumentError, MapError
from game.instrument.decoding.set_up import FoundStrings, SetUp, capo_heard, found_strings, hear, pass_time
from game.instrument.decoding.stamped import StampedMessage
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.neck.neck_map import roman
from game.neck.tuning import FEWEST_STRINGS, HIGHEST_CAPO, MOST_STRINGS, TUNINGS, tuning_named
from game.player.device_settings import DeviceSettings
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route
from game.screens.setup.dialog_sheet import LEFT, bottom_of, draw_foot, draw_running, lay_dialog, width_of
from game.text.catalogue import as_sentence, say, tell


class SetUpScreen(BaseScreen):
    """One device being set up."""

    def __init__(self, context: ScreenContext, device: str) -> None:
        super().__init__(context)
        self._name = device
        self.set_up = SetUp(strings=tuning_named(context.settings.tuning).strings)
        self.found: FoundStrings | None = None
        # The fret of a capo that was found on the neck and not in the settings.
        self.capo: int | None = None
        self._trouble = ""

    def on_message(self, stamped: StampedMessage) -> None:
        if stamped.source == self._name and self.found is None:
            self._go_on(hear(self.set_up, stamped))

    def on_tick(self, now_s: float) -> Route | None:
        if self.found is None:
            self._go_on(pass_time(self.set_up, now_s))
        return None

    def _go_on(self, state: SetUp) -> None:
        if state.heard != self.set_up.heard:
            self._trouble = ""
        self.set_up = state
        if not state.done:
            return
        try:
            self.found = self._keep(found_strings(state, capo=self.context.settings.capo_in_use))
        except (InstrumentError, MapError) as error:
            self._trouble = as_sentence(tell(error.message))
            self.set_up = SetUp(strings=self.set_up.strings)

    def _keep(self, strings: FoundStrings) -> FoundStrings:
        """What was found holds from now on; the map is for the tuning that was played. Where all strings sound as much
        too high that is a capo, unless it is a tuning of its own. Raises `InstrumentError` for a capo that is not on,
        and `MapError` for one that leaves too little of the neck.
        """
        settings = self.context.settings
        known_tuning, capo = tuning_named(settings.tuning), settings.capo_in_use
        fret = capo_heard(strings.tuning, known_tuning, capo)
        if capo and fret == 0:
            raise InstrumentError("set_up.capo_is_off", fret=roman(capo))
        self.capo = None
        if fret is not None and fret not in (0, capo) and fret <= HIGHEST_CAPO and strings.tuning.name not in TUNINGS:
            settings = settings.changed("capo", fret)
            strings, self.capo = replace(strings, tuning=known_tuning), fret
        known = settings.devices.get(self._name, DeviceSettings())
        if known.keyboard:
            # What was set up by its open strings is a guitar, though all of them are on one channel.
            known = DeviceSettings()
        device = msgspec.structs.replace(known, channels=strings.channels, bend_semitones=strings.bend_semitones)
        changes: dict[str, object] = {"devices": {**settings.devices, self._name: device}}
        if strings.tuning != known_tuning:
            changes |= {"tuning": strings.tuning.name, "choices": {}}
        self.context.change_settings(msgspec.structs.replace(settings, **changes))
        return strings

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            if self.found is not None:
                return Back()
            if self.set_up.wants_slide:
                self._go_on(self.set_up.without_slide())
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._count_strings(1 if event.key == pygame.K_RIGHT else -1)
        elif event.key == pygame.K_BACKSPACE:
            self.found = None
            self._go_on(self.set_up.back() if self.set_up.asked is not None else SetUp(strings=self.set_up.strings))
        return None

    def _count_strings(self, by: int) -> None:
        """Another number of strings, round the end: what was heard of the others is none of it."""
        numbers = range(FEWEST_STRINGS, MOST_STRINGS + 1)
        self.found, self._trouble = None, ""
        self.set_up = SetUp(strings=numbers[(numbers.index(self.set_up.strings) + by) % len(numbers)])

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, top = lay_dialog(self.context, surface, say("set_up.title"), self._name)
        words_top = bottom_of(canvas) - 76
        self._draw_strings(canvas, top + 20, words_top - 50)
        if self._trouble:
            words_top = draw_running(canvas, self._trouble, words_top, red=True)
        after = draw_running(canvas, self.words, words_top)
        if not self._next_words():
            draw_running(canvas, say("set_up.by_itself"), after, quiet=True)
        keys = key_hints(
            ("keys.arrows", "keys.number_of_strings"), ("keys.backspace", "keys.again"), ("keys.escape", "keys.back")
        )
        draw_foot(self.context, surface, keys, self._next_words())
        self.context.window.say_below(" ".join(filter(None, (self._trouble, self.words))), stay=True)
        return True

    def _next_words(self) -> str:
        """What the corner leads to; nothing while a string is waited for, and that is said."""
        if self.found is not None:
            return say("keys.done")
        return say("keys.no_slide") if self.set_up.wants_slide else ""

    @property
    def words(self) -> str:
        """What is asked, or what was found."""
        if self.found is not None:
            capo = say("set_up.capo_found", fret=roman(self.capo)) if self.capo else ""
            return " ".join(filter(None, (capo, _found_in_words(self.found))))
        if self.set_up.wants_slide:
            return say("set_up.slide")
        asked = self.set_up.asked
        again = "set_up.pluck_again" if len(self.set_up.heard) == self.set_up.strings else "set_up.pluck"
        return say(again, ordinal=say(f"ordinal.{asked}"))

    def _draw_strings(self, canvas: Canvas, top: float, bottom: float) -> None:
        """The strings as a player sees them, the lowest at the bottom, each with what it came as."""
        theme, step = canvas.theme, (bottom - top) / self.set_up.strings
        left, right = LEFT + 34, LEFT + width_of(canvas) - 330
        heard = {one.string: one for one in reversed(self.set_up.heard)}
        for string in range(1, self.set_up.strings + 1):
            y = top + (string - 0.5) * step
            asked = self.found is None and string == self.set_up.asked
            colour = theme.accent if asked else theme.ink if string in heard else theme.faded
            draw_ink(canvas, [(left, y), (right, y)], 1.2 + 0.42 * string, colour)
            canvas.write(str(string), (LEFT, y + 8), Style(Face.TITLE, 25, colour))
            if asked:
                self.context.window.follow(canvas.rect(LEFT, y - step, right - LEFT, 2 * step))
            if string in heard:
                words = self._came_as(heard[string].sounding, heard[string].channel)
                canvas.write(words, (right + 24, y + 8), Style(Face.TEXT, 25, theme.ink))

    def _came_as(self, sounding: int, channel: int) -> str:
        settings = self.context.settings
        written = spelled(sounding + 12 * settings.reading.octaves_down, Key(0))
        name = name_in(spelling_of(written), settings.note_names)
        return say("set_up.came_as", name=name, channel=channel)


def _found_in_words(strings: FoundStrings) -> str:
    if strings.channels is None:
        return say("set_up.rotates" if strings.is_mpe else "set_up.no_strings")
    bend = "set_up.bend" if strings.bend_is_known else "set_up.bend_unknown"
    words = say(
        "set_up.strings",
        last_string=strings.tuning.strings,
        first=strings.channels[-1],
        last=strings.channels[0],
        tuning=strings.tuning.told,
    )
    return f"{words} {say(bend, semitones=strings.bend_semitones)}"
