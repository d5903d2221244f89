"""How late an instrument is: the player plucks its lowest and its highest open string along with the click.

With a cable from the computer's sound into the pickup's converter, the computer plucks instead (Tab): then nobody's
lean is in what is measured.
"""

import msgspec
import pygame

from game.audio.beats import ClickSettings, even_clicks
from game.audio.played_line import PlayedLine, SoundedNote
from game.desk.kit.by_pencil import draw_ring
from game.desk.kit.canvas import Canvas, Style, blend
from game.desk.kit.inked import draw_dot, draw_ink
from game.desk.typography import Face
from game.instrument.decoding.calibration import MOST_PLUCKS, DelayFit, Pluck, enough_plucks, fit_delay, offsets_of
from game.instrument.decoding.messages import NoteOn, decode
from game.instrument.decoding.stamped import StampedMessage
from game.player.device_settings import DeviceSettings
from game.player.instrument_setup import setup_for
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Back, Route
from game.screens.setup.dialog_sheet import LEFT, bottom_of, draw_foot, draw_running, lay_dialog, width_of
from game.text.catalogue import say

_BPM = 80
_INTERVAL_S = 60.0 / _BPM
_SOFTEST = 16
# The picture reaches so far to either side, unless plucks lie farther off.
_LEAST_REACH_S = 0.05


class DelayScreen(BaseScreen):
    """One device being measured."""

    def __init__(self, context: ScreenContext, device: str) -> None:
        super().__init__(context)
        self._name = device
        self._sound = context.devices.sound
        strings = context.settings.tuning_as_it_sounds.open_strings
        # What is plucked, in turn: the lowest string, then the highest.
        self._asked = (strings[-1], strings[0])
        self._lowest_string = len(strings)
        self.plucks: list[Pluck] = []
        self.fit: DelayFit | None = None
        self.by_cable = False
        self._times_s: list[float] = []
        self._onset_s: float | None = None
        self._step = 0

    @property
    def moving(self) -> bool:
        return self._onset_s is not None

    @property
    def done(self) -> bool:
        """Whether both strings were plucked."""
        return self._step == len(self._asked)

    def on_message(self, stamped: StampedMessage) -> None:
        note_on = decode(stamped.message)
        if stamped.source != self._name or self._onset_s is None or not isinstance(note_on, NoteOn):
            return
        if note_on.pitch == self._asked[self._step] and note_on.velocity >= _SOFTEST:
            self._times_s.append(stamped.at_s)

    def on_tick(self, now_s: float) -> Route | None:
        self._sound.tick(now_s)
        if self._onset_s is None:
            return None
        clicks = int((now_s - self._onset_s) / _INTERVAL_S + 0.5)
        if clicks < 2:
            return None
        so_far = self._so_far(clicks)
        if enough_plucks(fit_delay(so_far), min(clicks, len(so_far))) or clicks >= MOST_PLUCKS:
            self._end_string(so_far)
        return None

    def _so_far(self, clicks: int) -> tuple[Pluck, ...]:
        assert self._onset_s is not None
        clicks_s = [self._onset_s + number * _INTERVAL_S for number in range(clicks)]
        return offsets_of(self._times_s, clicks_s, self._asked[self._step])

    def _end_string(self, plucks: tuple[Pluck, ...]) -> None:
        self._silence()
        self.plucks += plucks
        self._step += 1
        self.fit = fit_delay(self.plucks)
        if self.done and self.fit is not None and self.fit.usable:
            self._keep(self.fit)

    def _silence(self) -> None:
        self._sound.metronome.stop()
        self._sound.strings.stop()
        self._onset_s, self._times_s = None, []

    def _keep(self, found: DelayFit) -> None:
        settings = self.context.settings
        delay = found.delay(by_cable=self.by_cable)
        known = settings.devices.get(self._name) or DeviceSettings(channels=_channels(self.context, self._name))
        device = msgspec.structs.replace(
            known, constant_ms=1000 * delay.constant_s, periods=delay.periods, calibrated=True
        )
        self.context.change_settings(
            msgspec.structs.replace(settings, devices={**settings.devices, self._name: device})
        )

    def begin(self) -> None:
        """The click begins, with a bar of count-in; by cable the notes themselves."""
        if self._onset_s is not None or self.done:
            return
        self._times_s = []
        if self.by_cable:
            sounding = self._asked[self._step] - self.context.settings.capo_in_use
            notes = tuple(SoundedNote(onset_s=number * _INTERVAL_S, sounding=sounding) for number in range(MOST_PLUCKS))
            onset_s = self._sound.strings.play((PlayedLine(notes=notes),), self.context.clock)
            self._onset_s = onset_s + self._sound.metronome.output_delay_s
        else:
            self._sound.metronome.prepare(even_clicks(MOST_PLUCKS + 1, ClickSettings(tempo_bpm=_BPM)))
            self._onset_s = self._sound.start_clicks(self.context.clock)
        self.context.say_sound()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        enter = event.key in (pygame.K_RETURN, pygame.K_KP_ENTER)
        if event.key == pygame.K_ESCAPE or (enter and self.done):
            self._silence()
            return Back()
        if enter:
            self.begin()
        elif event.key == pygame.K_SPACE:
            if self._onset_s is None:
                self.begin()
            else:
                self._silence()
        elif event.key == pygame.K_BACKSPACE:
            self._silence()
            self.plucks, self.fit, self._step = [], None, 0
        elif event.key == pygame.K_TAB and self._onset_s is None and not self.plucks:
            self.by_cable = not self.by_cable
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        canvas, top = lay_dialog(self.context, surface, say("delay.title"), self._name)
        words_top = bottom_of(canvas) - 66
        self._draw_plucks(canvas, top + 10, words_top - 44)
        after, waits = draw_running(canvas, self.words, words_top), self._onset_s is None
        if not waits:
            draw_running(canvas, say("delay.by_itself"), after, quiet=True)
        keys = [("keys.backspace", "keys.again"), ("keys.escape", "keys.back")]
        if not self.done:
            keys.insert(0, ("keys.space", "keys.begin" if waits else "keys.stop"))
        if not self.plucks and waits:
            keys.append(("keys.tab", "keys.no_cable" if self.by_cable else "keys.cable"))
        next_words = say("keys.done") if self.done else say("keys.begin") if waits else ""
        draw_foot(self.context, surface, key_hints(*keys), next_words)
        self.context.window.say_below(self.words, stay=True)
        return True

    @property
    def words(self) -> str:
        """What is asked, or what came of it."""
        if self.done:
            return self._outcome()
        ordinal = say(f"ordinal.{self._lowest_string if self._step == 0 else 1}")
        if self._onset_s is not None:
            return say("delay.going", ordinal=ordinal, count=len(self._times_s))
        return say("delay.cable" if self.by_cable else "delay.pluck", ordinal=ordinal)

    def _outcome(self) -> str:
        found = self.fit
        if found is None or not found.usable:
            return say("delay.unusable")
        low, high = self._asked
        delay = found.delay(by_cable=self.by_cable)
        words = say(
            "delay.found",
            low=1000 * delay.of(low),
            high=1000 * delay.of(high),
            spread=1000 * found.spread_s,
        )
        lean_ms = 1000 * found.constant_s
        rest = "delay.all_of_it" if self.by_cable else "delay.lean_late" if lean_ms > 0 else "delay.lean_early"
        return f"{words} {say(rest, lean=abs(lean_ms))}"

    def _draw_plucks(self, canvas: Canvas, top: float, bottom: float) -> None:
        """Each pluck as a pencil dot: to the right when it came late; the rings are the fit over the strings."""
        theme, right = canvas.theme, LEFT + width_of(canvas)
        live = self._so_far(MOST_PLUCKS) if self._onset_s is not None and len(self._times_s) > 0 else ()
        plucks = [*self.plucks, *live]
        reach_s = max([_LEAST_REACH_S, *(abs(pluck.offset_s) for pluck in plucks)]) * 1.15
        centre = (LEFT + right) / 2

        def x_of(offset_s: float) -> float:
            return centre + offset_s / reach_s * ((right - LEFT) / 2 - 70)

        draw_ink(canvas, [(centre, top), (centre, bottom)], 1.4, theme.faded)
        canvas.write(say("delay.click"), (centre + 10, top + 14), Style(Face.ITALIC, 21, theme.faded))
        strings = self.context.settings.tuning_as_it_sounds.open_strings
        rows = {sounding: top + (row + 1) * (bottom - top) / (len(strings) + 1) for row, sounding in enumerate(strings)}
        for row, sounding in enumerate(strings, start=1):
            y = rows[sounding]
            draw_ink(canvas, [(LEFT + 40, y), (right, y)], 1.2, blend(theme.paper, theme.pencil, 0.5))
            canvas.write(str(row), (LEFT, y + 7), Style(Face.TITLE, 21, theme.faded))
            if self.fit is not None and self.done and self.fit.usable:
                draw_ring(canvas, (x_of(self.fit.at(sounding)), y), 16, 2, theme.accent, row)
        for pluck in plucks:
            draw_dot(canvas, (x_of(pluck.offset_s), rows[pluck.sounding]), 8, theme.pencil)


def _channels(context: ScreenContext, device: str) -> tuple[int, ...] | None:
    """As the device reports by default, when only its delay was measured."""
    setup = setup_for(context.settings, device)
    return getattr(setup, "channels", None)
