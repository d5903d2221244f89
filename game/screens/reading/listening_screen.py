"""A tune heard whole, with bass and chords below it, while its page lies there: nothing is asked of anybody."""

import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.typography import Face
from game.lines.titles import title_told
from game.music.passage import whole_tune
from game.practice.take_request import TakeRequest
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.reading.bass_and_chords_for import hear_passage
from game.screens.reading.bass_and_chords_key import (
    BASS_AND_CHORDS_KEY,
    bass_and_chords_hint,
    has_chords,
    toggle_bass_and_chords,
)
from game.screens.reading.marked_page import MarkedPage
from game.screens.reading.passage_heading import PassageHeading, draw_passage_heading
from game.screens.routes import Back, Route, ToToday
from game.screens.shown_keys import draw_keys, draw_next, lay_paper
from game.text.catalogue import say, tell

# From the upper edge of the window to the music, and from the lower one to its end and to the words, in units.
_MUSIC_TOP, _MUSIC_END, _WORDS = 112.0, 190.0, 138.0
_WORDS_SIZE = 25.0
_TO_CORNER = 24.0


class ListeningScreen(BaseScreen):
    """The page of a whole tune that sounds. Leaving it ends its step of the plan, where it is one."""

    free_string_commands = True

    def __init__(self, context: ScreenContext, request: TakeRequest) -> None:
        super().__init__(context)
        self.request = request
        self._passage = whole_tune(request.passage.score)
        self._has_chords = has_chords(self._passage)
        self._page = MarkedPage(context, self._passage, (), self._area)
        self._sounds()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_SPACE:
            self._stop_or_sound()
        elif event.key == BASS_AND_CHORDS_KEY and self._has_chords:
            toggle_bass_and_chords(self.context)
        elif event.key in (pygame.K_UP, pygame.K_DOWN):
            self._page.turn(1 if event.key == pygame.K_DOWN else -1)
        elif event.key == pygame.K_ESCAPE:
            self.context.devices.sound.stop()
            return Back()
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return self._on()
        return None

    def on_wheel(self, up: int) -> Route | None:
        self._page.turn(-up)
        return None

    def on_tick(self, now_s: float) -> Route | None:
        self.context.devices.sound.tick(now_s)
        return None

    def _on(self) -> Route:
        self.context.devices.sound.stop()
        if not self.request.planned:
            return Back()
        self.context.session.plan.finish_step()
        return ToToday()

    def _stop_or_sound(self) -> None:
        sound = self.context.devices.sound
        if sound.strings.playing:
            sound.stop()
        else:
            self._sounds()

    def _sounds(self) -> None:
        hear_passage(self.context, self._passage)
        self.context.say_sound()

    @property
    def _area(self) -> pygame.Rect:
        sheet = self.context.sheet
        area, height = sheet.text_area, sheet.height
        canvas = Canvas(pygame.Surface((1, 1)), sheet, self.context.theme)
        return canvas.rect(
            area.left / sheet.unit, _MUSIC_TOP, area.width / sheet.unit, height - _MUSIC_END - _MUSIC_TOP
        )

    def resized(self) -> None:
        self._page.fit(self._area)

    def draw(self, surface: pygame.Surface) -> bool:
        lay_paper(self.context, surface)
        canvas = Canvas(surface, self.context.sheet, self.context.theme)
        left, right = (edge / canvas.sheet.unit for edge in (canvas.sheet.text_area.left, canvas.sheet.text_area.right))
        self._page.draw(surface, {})
        title = tell(title_told(self._passage.score.title))
        draw_passage_heading(canvas, PassageHeading(title=title, where=say("listening.whole")), right)
        height = canvas.sheet.height
        canvas.write(say("listening.words"), (left, height - _WORDS), Style(Face.TEXT, _WORDS_SIZE, canvas.theme.ink))
        edge = draw_next(self.context, surface, say("listening.on")) - _TO_CORNER
        band = bass_and_chords_hint(self.context) if self._has_chords else ()
        more = (("keys.updown", "keys.more_lines"),) if self._page.more else ()
        keys = (
            *key_hints(("keys.space", "keys.start_or_stop")),
            *band,
            *key_hints(("keys.escape", "keys.back"), *more),
        )
        draw_keys(self.context, surface, keys, most_rows=2, right=edge)
        return True
