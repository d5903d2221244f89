"""The instruments that are plugged in: how each reports, what it plays, and what was filtered of it. Below them how a
plain guitar is heard, and the tuner.
"""

from enum import Enum

import msgspec
import pygame

from game.desk.kit.canvas import Canvas, Style
from game.desk.kit.lines_of_text import draw_text_lines
from game.desk.kit.sketches import SKETCH_SIZE, draw_guitar_with_cable
from game.desk.typography import Face
from game.instrument.decoding.decoded import dirt_told
from game.instrument.decoding.pedal import learned_controller
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.player.device_settings import DeviceSettings
from game.player.instrument_setup import channels_of_others, too_low_to_hear
from game.player.settings import InstrumentKind
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToDelay, ToMicrophones, ToSetUp, ToTuner
from game.screens.rows_in_sight import first_in_sight
from game.screens.setup.dialog_sheet import (
    LEFT,
    bottom_of,
    draw_foot,
    draw_row,
    draw_running,
    lay_dialog,
    width_of,
)
from game.text.catalogue import as_sentence, say, tell, tell_all

_ROW, _WORDS = 76.0, 66.0
_BESIDE_SKETCH = 28.0


class _Beside(Enum):
    """What the list has besides devices. The values are words in the catalogue."""

    PLAIN = "plain"
    TUNER = "tuner"


_Listed = str | _Beside
"""A row: a device by its name, or what stands below them."""


class InstrumentsScreen(BaseScreen):
    """The list of instruments."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        # By what it is, for devices come and go while the list is in sight; and where it stood, for when it is gone.
        self._chosen: _Listed | None = None
        self._chosen_at = 0
        self._learns_pedal = False
        self._heard: PlayedNote | None = None
        # The upper and lower ends of the rows in sight, in pixels.
        self._row_ends: dict[_Listed, tuple[int, int]] = {}

    @property
    def _devices(self) -> tuple[str, ...]:
        """Those that are there, then those that were set up once."""
        there, settings = self.context.devices.instruments.devices, self.context.settings
        return tuple(name for name in dict.fromkeys((*there, *settings.devices)) if name != settings.microphone)

    @property
    def _rows(self) -> tuple[_Listed, ...]:
        """The devices, how a plain guitar is heard, and, where one is, its tuner."""
        tuner = (_Beside.TUNER,) if self.context.settings.by_microphone else ()
        return (*self._devices, _Beside.PLAIN, *tuner)

    @property
    def _row(self) -> _Listed:
        return self._chosen_of(self._rows)

    def _chosen_of(self, rows: tuple[_Listed, ...]) -> _Listed:
        """The chosen row; where it is gone, what stands in its place."""
        if self._chosen is not None and self._chosen in rows:
            return self._chosen
        return rows[min(self._chosen_at, len(rows) - 1)]

    def _choose(self, row: _Listed, rows: tuple[_Listed, ...]) -> None:
        if row in rows:
            self._chosen, self._chosen_at = row, rows.index(row)

    @property
    def _device(self) -> str | None:
        row = self._row
        return row if isinstance(row, str) else None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_UP, pygame.K_DOWN):
            rows, by = self._rows, 1 if event.key == pygame.K_DOWN else -1
            self._choose(rows[(rows.index(self._chosen_of(rows)) + by) % len(rows)], rows)
        elif event.key == pygame.K_j:
            self._learns_pedal = not self._learns_pedal
        elif self._device is not None:
            return self._command(event.key, self._device)
        elif event.key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return ToTuner() if self._row is _Beside.TUNER else ToMicrophones()
        return None

    def on_click(self, at: tuple[int, int]) -> Route | None:
        """A click chooses an instrument."""
        for row, (top, bottom) in self._row_ends.items():
            if top <= at[1] < bottom:
                self._choose(row, self._rows)
        return None

    def _command(self, key: int, device: str) -> Route | None:
        """What a key does with the chosen device."""
        if key in (pygame.K_RETURN, pygame.K_KP_ENTER):
            return ToSetUp(device)
        if key == pygame.K_d:
            return ToDelay(device)
        if key == pygame.K_l:
            only = "" if self.context.settings.device == device else device
            self._settle(device=only)
        if key == pygame.K_DELETE and device in self.context.settings.devices:
            devices = {name: kept for name, kept in self.context.settings.devices.items() if name != device}
            self._settle(devices=devices)
        return None

    def _settle(self, **changes: object) -> None:
        self.context.change_settings(msgspec.structs.replace(self.context.settings, **changes))

    def on_note(self, event: NoteStarted) -> Route | None:
        self._heard = event.note
        self._choose(event.note.source, self._rows)
        return None

    def on_revised(self, event: NoteRevised) -> None:
        if self._heard == event.before:
            self._heard = event.after

    def on_message(self, stamped: StampedMessage) -> None:
        controller = learned_controller(stamped) if self._learns_pedal else None
        if controller is not None:
            self._learns_pedal = False
            pedals = tuple(dict.fromkeys((*self.context.settings.pedals, controller)))
            self._settle(pedals=pedals)
            self.context.say(say("instruments.pedal_learned", controller=controller))

    def draw(self, surface: pygame.Surface) -> bool:
        found = tell_all(self.context.devices.instruments.found)
        canvas, top = lay_dialog(self.context, surface, say("instruments.title"), found)
        rows, top = self._rows, top + 24
        chosen = self._chosen_of(rows)
        if self._chosen is not None or isinstance(chosen, str):
            # Whoever has chosen nothing is at the first device once there is one, and stays there.
            self._choose(chosen, rows)
        shown = max(1, int((bottom_of(canvas) - _WORDS - top) / _ROW))
        first = first_in_sight(chosen=rows.index(chosen), shown=shown, count=len(rows))
        self._row_ends = {}
        for number, row in enumerate(rows[first : first + shown], start=first):
            baseline = top + (number - first) * _ROW
            self._row_ends[row] = canvas.px(baseline - 30), canvas.px(baseline - 30 + _ROW)
            here = self._draw_row(canvas, baseline, row, chosen=row == chosen)
            if row == chosen:
                self.context.window.follow(here)
        if not self._devices and not self.context.settings.by_microphone:
            _draw_none(canvas, top + _ROW * len(rows) + 8)
        words = say("instruments.press_pedal") if self._learns_pedal else self._last_words()
        draw_running(canvas, words, bottom_of(canvas) - 20)
        draw_foot(self.context, surface, self._keys(), self._next_words())
        return True

    def _draw_row(self, canvas: Canvas, baseline: float, row: _Listed, *, chosen: bool) -> pygame.Rect:
        if isinstance(row, str):
            return draw_row(canvas, baseline, row, below=self._in_words(row), chosen=chosen)
        below = self._heard_by() if row is _Beside.PLAIN else say("instruments.tuner.why")
        return draw_row(canvas, baseline, say(f"instruments.{row.value}"), below=below, chosen=chosen)

    def _heard_by(self) -> str:
        """How a plain guitar is heard, if it is."""
        settings = self.context.settings
        too_low = too_low_to_hear(settings)
        if too_low is not None:
            return as_sentence(tell(too_low))
        if settings.by_microphone:
            return say("instruments.plain.heard", name=settings.microphone)
        return say("instruments.plain.none" if self.context.listens else "instruments.plain.marked")

    def _next_words(self) -> str:
        if self._device:
            return say("keys.set_up")
        return say("keys.tune" if self._row is _Beside.TUNER else "keys.how_heard")

    def _in_words(self, device: str) -> str:
        """How a device reports, how late it is, and what was filtered."""
        instruments, settings = self.context.devices.instruments, self.context.settings
        other_strings = channels_of_others(settings, device)
        if other_strings is not None:
            return as_sentence(tell(other_strings))
        words = [_reports(settings.instrument, settings.devices.get(device))]
        words.append(_delay(settings.devices.get(device)))
        if device not in instruments.devices:
            words.append(say("instruments.not_there"))
        elif dirt := dirt_told(instruments.filtered(device)):
            words.append(say("instruments.filtered", dirt=dirt))
        if settings.device == device:
            words.append(say("instruments.only"))
        return say("instruments.facts", facts=tuple(filter(None, words)))

    def _last_words(self) -> str:
        """The note played last, so that a player sees at once whether it is the right one."""
        note = self._heard
        if note is None:
            return say("instruments.play") if self._devices else ""
        settings = self.context.settings
        written = spelled(note.sounding + 12 * settings.reading.octaves_down, Key(0))
        name = name_in(spelling_of(written), settings.note_names)
        if note.place is None:
            return say("instruments.heard_pitch", name=name, velocity=note.velocity)
        place = note.place
        return say("instruments.heard", name=name, string=place.string, fret=place.fret, velocity=note.velocity)

    def _keys(self) -> tuple[KeyHint, ...]:
        keys = [("keys.updown", "keys.choose")] if len(self._rows) > 1 else []
        if self._device:
            keys += [("D", "keys.delay"), ("L", "keys.only")]
        if self._device in self.context.settings.devices:
            keys.append(("keys.delete", "keys.forget"))
        return key_hints(*keys, ("J", "keys.pedal"), ("keys.escape", "keys.back"))


def _draw_none(canvas: Canvas, top: float) -> None:
    """A guitar with its cable, and what it waits for."""
    draw_guitar_with_cable(canvas, (LEFT, top))
    left = LEFT + SKETCH_SIZE[0] + _BESIDE_SKETCH
    style = Style(Face.TEXT, 26, canvas.theme.ink)
    draw_text_lines(canvas, say("instruments.none"), (left, top + 30), style, width_of(canvas) - left + LEFT)


def _reports(kind: InstrumentKind, known: DeviceSettings | None) -> str:
    if kind is InstrumentKind.KEYBOARD or (known is not None and known.channels is None):
        return say("instruments.pitch_only")
    if known is None:
        return say("instruments.not_set_up")
    assert known.channels is not None
    return say("instruments.strings", strings=len(known.channels), first=known.channels[-1], last=known.channels[0])


def _delay(known: DeviceSettings | None) -> str:
    if known is None or not known.calibrated:
        return ""
    return say("instruments.measured", periods=known.periods)
