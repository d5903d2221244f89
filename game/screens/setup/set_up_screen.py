"""A device is set up by playing its open strings, from the lowest up, and a slide. What is found is kept by name."""

import msgspec
import pygame

from game.desk.paper import draw_heading, draw_paragraph, draw_text
from game.desk.typography import Face
from game.errors import InstrumentError
from game.instrument.decoding.set_up import FoundStrings, SetUp, found_strings, hear, pass_time
from game.instrument.decoding.stamped import StampedMessage
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.player.settings import DeviceSettings
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Route, ToInstruments
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import as_sentence, say, tell

_STRINGS = 6


class SetUpScreen(BaseScreen):
    """One device being set up."""

    def __init__(self, context: ScreenContext, device: str) -> None:
        super().__init__(context)
        self._name = device
        self.set_up = SetUp()
        self.found: FoundStrings | None = None
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
            self.found = found_strings(state)
        except InstrumentError as error:
            self._trouble = as_sentence(tell(error.message))
            self.set_up = SetUp()
        else:
            self._keep(self.found)

    def _keep(self, strings: FoundStrings) -> None:
        """What was found holds from now on; the map is for the tuning that was played."""
        settings = self.context.settings
        known = settings.devices.get(self._name, DeviceSettings())
        device = msgspec.structs.replace(known, channels=strings.channels, bend_semitones=strings.bend_semitones)
        changes: dict[str, object] = {"devices": {**settings.devices, self._name: device}}
        if strings.tuning.name != settings.tuning:
            changes |= {"tuning": strings.tuning.name, "choices": {}}
        self.context.change_settings(msgspec.structs.replace(settings, **changes))

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE or (event.key == pygame.K_RETURN and self.found is not None):
            return ToInstruments()
        if event.key == pygame.K_BACKSPACE:
            self.found = None
            self._go_on(self.set_up.back() if self.set_up.asked is not None else SetUp())
        elif event.key == pygame.K_SPACE and self.found is None and self.set_up.wants_slide:
            self._go_on(self.set_up.without_slide())
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, say("set_up.title"), below=self._name)
        self._draw_strings(surface)
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(200), area.width, sheet.px(140))
        if self._trouble:
            used = draw_paragraph(surface, self._trouble, room, Face.ITALIC, sheet.text_px, theme.accent)
            room = pygame.Rect(room.left, used.bottom + sheet.px(6), room.width, sheet.px(60))
        draw_paragraph(surface, self.words, room, Face.TEXT, sheet.px(30), theme.ink)
        draw_keys(self.context, surface, self._keys())
        return True

    @property
    def words(self) -> str:
        """What is asked, or what was found."""
        if self.found is not None:
            return _found_in_words(self.found)
        if self.set_up.wants_slide:
            return say("set_up.slide")
        asked = self.set_up.asked
        again = "set_up.pluck_again" if len(self.set_up.heard) == _STRINGS else "set_up.pluck"
        return say(again, ordinal=say(f"ordinal.{asked}"))

    def _draw_strings(self, surface: pygame.Surface) -> None:
        """The six strings as a player sees them, the lowest at the bottom, each with what it came as."""
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        left, right = area.left + sheet.px(70), area.right - sheet.px(330)
        heard = {one.string: one for one in reversed(self.set_up.heard)}
        for string in range(1, _STRINGS + 1):
            y = area.top + sheet.px(110) + (string - 1) * sheet.px(52)
            asked = self.found is None and string == self.set_up.asked
            colour = theme.accent if asked else theme.ink if string in heard else theme.faded
            pygame.draw.line(surface, colour, (left, y), (right, y), max(1, round(sheet.px(1) * (0.8 + 0.45 * string))))
            at = (area.left, y - sheet.text_px * 2 // 3)
            draw_text(surface, str(string), at, Face.TITLE, sheet.text_px, colour)
            if string in heard:
                self._label(surface, heard[string].sounding, heard[string].channel, (right + sheet.px(24), at[1]))

    def _label(self, surface: pygame.Surface, sounding: int, channel: int, at: tuple[int, int]) -> None:
        settings = self.context.settings
        written = spelled(sounding + 12 * settings.reading.octaves_down, Key(0))
        name = name_in(spelling_of(written), settings.note_names)
        words = say("set_up.came_as", name=name, channel=channel)
        draw_text(surface, words, at, Face.TEXT, self.context.sheet.text_px, self.context.theme.ink)

    def _keys(self) -> tuple[KeyHint, ...]:
        keys = [("keys.backspace", "keys.again"), ("keys.escape", "keys.instruments")]
        if self.found is not None:
            keys.insert(0, ("keys.enter", "keys.done"))
        elif self.set_up.wants_slide:
            keys.insert(0, ("keys.space", "keys.no_slide"))
        return key_hints(*keys)


def _found_in_words(strings: FoundStrings) -> str:
    if strings.channels is None:
        return say("set_up.rotates" if strings.is_mpe else "set_up.no_strings")
    bend = "set_up.bend" if strings.bend_is_known else "set_up.bend_unknown"
    words = say("set_up.strings", first=strings.channels[-1], last=strings.channels[0], tuning=strings.tuning.told)
    return f"{words} {say(bend, semitones=strings.bend_semitones)}"
