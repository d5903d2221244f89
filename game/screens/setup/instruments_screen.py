"""The instruments that are plugged in: how each reports, what it plays, and what was filtered of it."""

import msgspec
import pygame

from game.desk.paper import draw_choice_mark, draw_heading, draw_paragraph, draw_text
from game.desk.typography import Face, shortened
from game.instrument.decoding.decoded import dirt_told
from game.instrument.decoding.pedal import learned_controller
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.stamped import StampedMessage
from game.music.keys import Key, spelled
from game.music.names import name_in, spelling_of
from game.player.settings import DeviceSettings, InstrumentKind
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.key_hints import KeyHint, key_hints
from game.screens.routes import Back, Route, ToDelay, ToSetUp
from game.screens.shown_keys import draw_keys, lay_paper
from game.text.catalogue import say, tell_all

_ROW_UNITS = 74


class InstrumentsScreen(BaseScreen):
    """The list of instruments."""

    def __init__(self, context: ScreenContext) -> None:
        super().__init__(context)
        self._chosen = 0
        self._learns_pedal = False
        self._heard: PlayedNote | None = None

    @property
    def _devices(self) -> tuple[str, ...]:
        """Those that are there, then those that were set up once."""
        there = self.context.devices.instruments.devices
        return tuple(dict.fromkeys((*there, *self.context.settings.devices)))

    @property
    def _device(self) -> str | None:
        devices = self._devices
        return devices[min(self._chosen, len(devices) - 1)] if devices else None

    def on_key(self, event: pygame.event.Event) -> Route | None:
        if event.key == pygame.K_ESCAPE:
            return Back()
        if event.key in (pygame.K_UP, pygame.K_DOWN) and self._devices:
            self._chosen = (self._chosen + (1 if event.key == pygame.K_DOWN else -1)) % len(self._devices)
        elif event.key == pygame.K_p:
            self._learns_pedal = not self._learns_pedal
        elif self._device is not None:
            return self._command(event.key, self._device)
        return None

    def _command(self, key: int, device: str) -> Route | None:
        """What a key does with the chosen device."""
        if key == pygame.K_RETURN:
            return ToSetUp(device)
        if key == pygame.K_c:
            return ToDelay(device)
        if key == pygame.K_l:
            only = "" if self.context.settings.device == device else device
            self._settle(device=only)
        if key == pygame.K_BACKSPACE and device in self.context.settings.devices:
            devices = {name: kept for name, kept in self.context.settings.devices.items() if name != device}
            self._settle(devices=devices)
        return None

    def _settle(self, **changes: object) -> None:
        self.context.change_settings(msgspec.structs.replace(self.context.settings, **changes))

    def on_note(self, event: NoteStarted) -> Route | None:
        self._heard = event.note
        devices = self._devices
        if event.note.source in devices:
            self._chosen = devices.index(event.note.source)
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
        sheet, theme = self.context.sheet, self.context.theme
        lay_paper(self.context, surface)
        area = sheet.text_area
        draw_heading(surface, sheet, theme, say("instruments.title"))
        room = pygame.Rect(area.left, area.top + sheet.px(54), area.width, sheet.px(60))
        found = tell_all(self.context.devices.instruments.found)
        draw_paragraph(surface, found, room, Face.ITALIC, sheet.small_px, theme.faded)
        top = area.top + sheet.px(124)
        for row, device in enumerate(self._devices):
            y = top + row * sheet.px(_ROW_UNITS)
            if y + sheet.px(_ROW_UNITS) > sheet.paper.bottom - sheet.px(150):
                break
            self._draw_device(surface, device, y, chosen=device == self._device)
        room = pygame.Rect(area.left, sheet.paper.bottom - sheet.px(136), area.width, sheet.px(80))
        words = say("instruments.press_pedal") if self._learns_pedal else self._last_words()
        draw_paragraph(surface, words, room, Face.TEXT, sheet.text_px, theme.ink)
        draw_keys(self.context, surface, self._keys())
        return True

    def _draw_device(self, surface: pygame.Surface, device: str, y: int, *, chosen: bool) -> None:
        sheet, theme = self.context.sheet, self.context.theme
        area = sheet.text_area
        left, width = area.left + sheet.px(34), area.width - sheet.px(34)
        name = shortened(device, Face.TEXT, sheet.text_px, width)
        draw_text(surface, name, (left, y), Face.TEXT, sheet.text_px, theme.ink)
        words = shortened(self._in_words(device), Face.ITALIC, sheet.small_px, width)
        draw_text(surface, words, (left, y + sheet.px(32)), Face.ITALIC, sheet.small_px, theme.faded)
        if chosen:
            draw_choice_mark(surface, sheet, theme, y + sheet.text_px * 0.65)

    def _in_words(self, device: str) -> str:
        """How a device reports, how late it is, and what was filtered."""
        instruments, settings = self.context.devices.instruments, self.context.settings
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
            return say("instruments.play" if self._devices else "instruments.none")
        settings = self.context.settings
        written = spelled(note.sounding + 12 * settings.reading.octaves_down, Key(0))
        name = name_in(spelling_of(written), settings.note_names)
        if note.place is None:
            return say("instruments.heard_pitch", name=name, velocity=note.velocity)
        place = note.place
        return say("instruments.heard", name=name, string=place.string, fret=place.fret, velocity=note.velocity)

    def _keys(self) -> tuple[KeyHint, ...]:
        keys = [("keys.enter", "keys.set_up"), ("C", "keys.delay"), ("L", "keys.only")]
        if self._device in self.context.settings.devices:
            keys.append(("keys.backspace", "keys.forget"))
        if not self._devices:
            keys = []
        return key_hints(("keys.updown", "keys.choose"), *keys, ("P", "keys.pedal"), ("keys.escape", "keys.back"))


def _reports(kind: InstrumentKind, known: DeviceSettings | None) -> str:
    if kind is InstrumentKind.KEYBOARD or (known is not None and known.channels is None):
        return say("instruments.pitch_only")
    if known is None:
        return say("instruments.not_set_up")
    assert known.channels is not None
    return say("instruments.strings", first=known.channels[-1], last=known.channels[0])


def _delay(known: DeviceSettings | None) -> str:
    if known is None or not known.calibrated:
        return ""
    return say("instruments.measured", periods=known.periods)
