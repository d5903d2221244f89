"""How late an instrument is: the player plucks its lowest and its highest open string along with the click.

With a cable from the computer's sound into the pickup's converter, the computer plucks instead (B): then nobody's lean
is in what is measured.
"""

import msgspec
import pygame

from game.audio.beats import ClickSettings, even_clicks
from game.audio.played_line import PlayedLine, SoundedNote
from game.desk import pencil
from game.desk.paper import draw_heading, draw_paragraph, draw_text
from game.desk.typography import Face
from game.instrument.decoding.calibration import MOST_PLUCKS, DelayFit, Pluck, enough_plucks, fit_delay, offsets_of
from game.instrument.decoding.messages import NoteOn, decode
from game.instrument.decoding.stamped import StampedMessage
from game.neck.tuning import tuning_named
from game.player.instrument_setup import setup_for
from game.player.settings import DeviceSettings
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import key_hints
from game.screens.routes import Route, ToInstruments
from game.screens.shown_keys import draw_keys, lay_paper
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
        strings = tuning_named(context.settings.tuning).open_strings
        # What is plucked, in turn: the lowest string, then the highest.
        self._asked = (strings[-1], strings[0])
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
            sounding = self._asked[self._step]
            notes = tuple(SoundedNote(onset_s=number * _INTERVAL_S, sounding=sounding) for number in range(MOST_PLUCKS))
            onset_s = self._sound.strings.play((PlayedLine(notes=notes),), self.context.clock)
            self._onset_s = onset_s + self._sound.metronome.output_delay_s
        else:
            self._sound.metronome.prepare(even_clicks(MOST_PLUCKS + 1, ClickSettings(tempo_bpm=_BPM)))
            self._onset_s = self._sound.start_clicks(self.context.clock)
        self.context.say_sound()

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE or (event.key == pygame.K_RETURN and self.done):
            self._silence()
            return ToInstruments()
        if event.key == pygame.K_SPACE:
            self.begin()
        elif event.key == pygame.K_BACKSPACE:
            self._silence()
            self.plucks, self.fit, self._step = [], None, 0
        elif event.key == pygame.K_b and self._onset_s is None and not self.plucks:
            self.by_cable = not self.by_cable
        return None

    def draw(self, surface: pygame.Surface) -> bool:
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, say("delay.title"), below=self._name)
        top = area.top + sheet.px(100)
        self._draw_plucks(surface, pygame.Rect(area.left, top, area.width, sheet.paper.bottom - sheet.px(240) - top))
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(196), area.width, sheet.px(140))
        draw_paragraph(surface, self.words, room, Face.TEXT, sheet.text_px, theme.ink)
        keys = [("keys.escape", "keys.instruments"), ("keys.backspace", "keys.again")]
        if not self.done:
            keys.insert(0, ("keys.space", "keys.begin"))
        if not self.plucks and self._onset_s is None:
            keys.append(("B", "keys.no_cable" if self.by_cable else "keys.cable"))
        draw_keys(self.context, surface, key_hints(*keys))
        return True

    @property
    def words(self) -> str:
        """What is asked, or what came of it."""
        if self.done:
            return self._outcome()
        ordinal = say(f"ordinal.{6 if self._step == 0 else 1}")
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

    def _draw_plucks(self, surface: pygame.Surface, room: pygame.Rect) -> None:
        """Each pluck as a pencil dot: to the right when it came late; the line is the fit over the six strings."""
        sheet, theme = self.context.sheet, self.context.theme
        live = self._so_far(MOST_PLUCKS) if self._onset_s is not None and len(self._times_s) > 0 else ()
        plucks = [*self.plucks, *live]
        reach_s = max([_LEAST_REACH_S, *(abs(pluck.offset_s) for pluck in plucks)]) * 1.15
        centre = room.centerx

        def x_of(offset_s: float) -> float:
            return centre + offset_s / reach_s * (room.width / 2 - sheet.px(70))

        pygame.draw.line(surface, theme.faded, (centre, room.top), (centre, room.bottom), max(1, sheet.px(1)))
        at = (centre + sheet.px(8), room.top)
        draw_text(surface, say("delay.click"), at, Face.ITALIC, sheet.small_px, theme.faded)
        strings = tuning_named(self.context.settings.tuning).open_strings
        rows = {sounding: room.top + (row + 1) * room.height / 7 for row, sounding in enumerate(strings)}
        for row, sounding in enumerate(strings, start=1):
            y = rows[sounding]
            pygame.draw.line(surface, theme.edge, (room.left + sheet.px(40), y), (room.right, y), 1)
            at = (room.left, round(y - sheet.small_px * 0.65))
            draw_text(surface, str(row), at, Face.TITLE, sheet.small_px, theme.faded)
            if self.fit is not None and self.done and self.fit.usable:
                mark = pencil.ring(sheet.px(16), max(1.4, sheet.px(2)), theme.accent, seed=row)
                surface.blit(mark, mark.get_rect(center=(x_of(self.fit.at(sounding)), y)))
        for pluck in plucks:
            y = rows[pluck.sounding]
            pygame.draw.circle(surface, theme.pencil, (x_of(pluck.offset_s), y), max(2.0, sheet.px(4)))


def _channels(context: ScreenContext, device: str) -> tuple[int, ...] | None:
    """As the device reports by default, when only its delay was measured."""
    setup = setup_for(context.settings, device)
    return getattr(setup, "channels", None)
