"""What the player can settle, one line each; arrows choose and change, everything is kept at once."""

from typing import Any

import msgspec
import pygame

from game.audio.clicking import Clicking
from game.desk.paper import lay_paper, mark_chosen, set_block, set_heading, set_keys, set_line
from game.desk.type import Face
from game.errors import HomefretError
from game.instrument.decoding.dirt import NO_LIMITS, USUAL_LIMITS
from game.lines.levels import LEVELS
from game.music.names import NoteNames
from game.music.score import Reading
from game.neck.tuning import TUNINGS
from game.player.settings import HIGHEST_BASE_CHANNEL, InstrumentKind, Look, MusicFace
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.reading.look_keys import LARGEST_SPACE, SMALLEST_SPACE
from game.screens.routes import Route, ToPlayers, ToShelf
from game.text.catalogue import say

# Each setting with the values it can take, in the order in which the arrows go through them.
_CHOICES: dict[str, tuple[Any, ...]] = {
    "look": tuple(Look),
    "music_face": tuple(MusicFace),
    "staff_space_px": tuple(range(SMALLEST_SPACE, LARGEST_SPACE + 1, 2)),
    "note_names": tuple(NoteNames),
    "left_handed": (False, True),
    "waits": (True, False),
    "wants_home": (False, True),
    "still": (False, True),
    "slip": (False, True),
    "clicking": tuple(Clicking),
    "volume": tuple(step / 10 for step in range(11)),
    "target_bpm": tuple(range(50, 201, 5)),
    "line_level": tuple(level.number for level in LEVELS),
    "reading": tuple(Reading),
    "tuning": tuple(TUNINGS),
    "instrument": tuple(InstrumentKind),
    "base_channel": tuple(range(1, HIGHEST_BASE_CHANNEL + 1)),
    "limits": (USUAL_LIMITS, NO_LIMITS),
}
_SAID_AS_IT_IS = ("staff_space_px", "tuning", "base_channel", "target_bpm")


class SettingsScreen(BaseScreen):
    """The list of settings."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._chosen = 0

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key in (pygame.K_ESCAPE, pygame.K_RETURN):
            return ToShelf()
        if event.key == pygame.K_p:
            return ToPlayers()
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            self._chosen = (self._chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(_CHOICES)
        elif event.key in (pygame.K_LEFT, pygame.K_RIGHT):
            self._change(1 if event.key == pygame.K_RIGHT else -1)
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses a line; a click on the chosen one changes it."""
        row = (at[1] - self._top) // self._row_height
        if 0 <= row < len(_CHOICES):
            if row == self._chosen:
                self._change(1)
            self._chosen = row
        return None

    def _change(self, by: int) -> None:
        name = list(_CHOICES)[self._chosen]
        choices = _CHOICES[name]
        now = getattr(self.context.settings, name)
        index = (choices.index(now) + by) % len(choices) if now in choices else 0
        settings = msgspec.structs.replace(self.context.settings, **{name: choices[index]})
        if name == "tuning":
            # Homes chosen by hand belong to the tuning they were chosen in.
            settings = msgspec.structs.replace(settings, choices={})
        try:
            settings.neck_map()
        except HomefretError as error:
            self.context.say_error(error)
        else:
            self.context.change_settings(settings)
            self._take_effect(name)

    def _take_effect(self, name: str) -> None:
        """What does not read its setting anew by itself."""
        if name == "volume":
            self.context.devices.sound.set_volume(self.context.settings.volume)

    @property
    def _top(self) -> int:
        return self.context.sheet.text_area.top + self.context.sheet.px(66)

    @property
    def _row_height(self) -> int:
        """A line each, all of them above the advice at the foot."""
        sheet = self.context.sheet
        return min(sheet.px(30), (sheet.paper.bottom - sheet.px(112) - self._top) // len(_CHOICES))

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(surface, sheet, theme)
        area = sheet.text_area
        set_heading(surface, sheet, theme, say("settings.title"))
        for row, name in enumerate(_CHOICES):
            y = self._top + row * self._row_height
            chosen = row == self._chosen
            left = area.left + sheet.px(34)
            set_line(surface, say(f"settings.{name}"), (left, y), Face.ITALIC, sheet.small_px, theme.faded)
            value = getattr(self.context.settings, name)
            set_line(
                surface,
                _in_words(name, value),
                (left + sheet.px(290), y),
                Face.TEXT,
                sheet.small_px,
                theme.ink,
            )
            if chosen:
                mark_chosen(surface, sheet, theme, y + sheet.small_px * 0.65)
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(96), area.width, sheet.px(56))
        # The advice on listening is that of WHO-ITU H.870.
        advice = say("care.listening" if list(_CHOICES)[self._chosen] == "volume" else "care.hands")
        set_block(surface, advice, room, Face.ITALIC, sheet.small_px, theme.faded)
        set_keys(
            surface,
            (
                ("↑ ↓", say("keys.choose")),
                ("← →", say("keys.change")),
                ("P", say("keys.players")),
                ("Esc", say("keys.shelf")),
            ),
            sheet,
            theme,
        )
        return True


def _in_words(name: str, value: Any) -> str:
    if name == "volume":
        return f"{round(value * 10)} of 10"
    if name == "line_level":
        return f"{value}, {LEVELS[value - 1].name}"
    if name == "limits":
        return say("settings.limits.kept" if value == NO_LIMITS else "settings.limits.filtered")
    if name in _SAID_AS_IT_IS:
        return str(value)
    return say(f"settings.{name}.{value if isinstance(value, bool) else value.value}")
