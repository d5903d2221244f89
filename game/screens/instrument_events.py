"""MIDI for the screens: what is played and what is plugged in or out goes to whichever screen is there."""

from collections.abc import Iterator, Sequence

import msgspec

from game.instrument.decoding.instrument_state import Setup
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlaysOnOneChannel
from game.instrument.ports.device_changes import DeviceFound, DeviceLost, DeviceWired, SystemChanged
from game.instrument.ports.live_instrument import ListeningTerms, TakenEvent
from game.instrument.ports.midi_inputs import OFFERED
from game.instrument.sources.note_sources import LISTENED_TO, LiveSources, OpenSource
from game.player.device_settings import DeviceSettings
from game.player.instrument_setup import channels_of_others, setup_for, sound_terms, too_low_to_hear
from game.player.settings import InstrumentKind
from game.screens.base_screen import BaseScreen
from game.screens.context import ScreenContext
from game.screens.own_strings import OwnStrings
from game.text.catalogue import as_sentence, say, tell


class InstrumentEvents:
    """Listens for the app to every source there is."""

    def __init__(self, context: ScreenContext, opened: Sequence[OpenSource] = LISTENED_TO) -> None:
        self._context = context
        self._settings = context.settings
        self._own_strings = OwnStrings()
        self._hears_itself = False
        self._told_how: set[str] = set()
        self._live = context.devices.instruments = LiveSources(self._terms(), opened)
        if self._live.microphone is not None:
            context.devices.microphone = self._live.microphone

    def _terms(self) -> ListeningTerms:
        """As the settings are now, not as they were when the program began."""
        context, settings = self._context, self._context.settings
        return ListeningTerms(
            now_s=context.clock.now_s,
            setup_for=self._setup_for,
            pedals=settings.pedals,
            wanted=settings.device or None,
            sound=sound_terms(settings),
            capo=settings.capo_in_use,
        )

    def _setup_for(self, device: str) -> Setup:
        return setup_for(self._context.settings, device)

    def report_changes(self, screen: BaseScreen) -> None:
        """Tell a screen which instruments came and went."""
        for change in self._live.changes():
            if isinstance(change, DeviceLost):
                screen.device_lost(change.name, was_playing=change.was_playing)
            elif isinstance(change, DeviceFound) and change.wires_itself:
                screen.device_to_be_wired(change.name)
            elif isinstance(change, DeviceFound):
                screen.device_found(change.name)
                self._offer_set_up(change.name, heard_as=change.name)
            elif isinstance(change, DeviceWired):
                screen.device_found(change.name)
                self._offer_set_up(change.name, heard_as=OFFERED)
            elif isinstance(change, SystemChanged):
                self._context.say(as_sentence(tell(change.told)))
            else:
                key = "device.refused_wire" if change.can_be_wired else "device.refused"
                self._context.say(say(key, device=change.name, reason=change.reason))

    def _offer_set_up(self, name: str, *, heard_as: str) -> None:
        """A guitar nobody has set up yet works as most do; how to do better is said, once: of one that comes back it is
        told that it is back. A microphone was chosen.
        """
        settings = self._context.settings
        if name == settings.microphone or self._has_other_strings(heard_as):
            return
        known = name in self._told_how or heard_as in settings.devices
        if settings.instrument is InstrumentKind.GUITAR and not known:
            self._told_how.add(name)
            self._context.say(say("device.new", device=name))

    def _has_other_strings(self, device: str) -> bool:
        """Whether its channels are not the strings of the player's tuning, which is said: only pitches count then."""
        why = (
            None if device == self._context.settings.microphone else channels_of_others(self._context.settings, device)
        )
        if why is not None:
            self._context.say(as_sentence(tell(why)))
        return why is not None

    def _say_other_strings(self) -> None:
        for name in self._live.devices:
            if self._has_other_strings(name):
                return

    def events(self) -> Iterator[TakenEvent]:
        """What happened on the instruments since the last call."""
        settings = self._context.settings
        if settings is not self._settings:
            other_tuning = settings.tuning != self._settings.tuning
            too_low = too_low_to_hear(settings)
            if too_low is not None and too_low != too_low_to_hear(self._settings):
                self._context.say(as_sentence(tell(too_low)))
            self._settings = settings
            self._live.settle(self._terms())
            if other_tuning:
                self._say_other_strings()
        now_s = self._context.clock.now_s()
        if settings.hears_itself:
            self._own_strings.look(self._context.devices.sound, now_s)
        for event in self._live.events(now_s):
            if isinstance(event, PlaysOnOneChannel):
                self._take_for_pitches(event)
            elif not self._may_be_ours(event):
                yield event
        if self._context.hears_itself is not self._hears_itself:
            self._hears_itself = self._context.hears_itself
            self._silence_the_take()

    def _take_for_pitches(self, event: PlaysOnOneChannel) -> None:
        """A keyboard is told of as soon as it is known, and kept once that is sure. What other programs play into our
        own port is another device each time.
        """
        if not event.surely:
            self._context.say(say("device.one_channel", device=event.device))
        elif event.device != OFFERED:
            settings = self._context.settings
            devices = {**settings.devices, event.device: DeviceSettings(periods=0.0, keyboard=True)}
            self._context.change_settings(msgspec.structs.replace(settings, devices=devices))

    def _silence_the_take(self) -> None:
        """Bass and chords end where a pickup gives back, within a take, to a microphone that would hear them."""
        sound = self._context.devices.sound
        sound.set_volumes(self._context.settings.volumes)
        if self._hears_itself:
            sound.metronome.set_accompaniment_volume(0.0)

    def _may_be_ours(self, event: TakenEvent) -> bool:
        """Whether a microphone heard it while our own strings sounded: what the game plays must not answer it."""
        if not self._context.settings.hears_itself or not isinstance(event, NoteStarted | NoteRevised):
            return False
        note = event.note if isinstance(event, NoteStarted) else event.before
        return note.heard and self._own_strings.sounded_at(note.started_s)

    def close(self) -> None:
        """Let go of every port."""
        self._live.close()
