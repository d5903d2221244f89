"""How an instrument reports, as the settings have it. Not needed before the first frame, and loaded after it."""

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.instrument_state import KeyboardSetup, Setup
from game.instrument.decoding.pitches import PitchesSetup
from game.instrument.decoding.strings_setup import CHANNELS, StringsSetup, channels_from
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES
from game.instrument.listening.range_heard import LOWEST_HEARD, SURELY_HEARD
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.sources.note_sources import PlayedOn
from game.message import Message, message
from game.neck.tuning import note_name, tuning_named
from game.player.device_settings import DeviceSettings, MicrophoneSettings
from game.player.settings import InstrumentKind, Settings
from game.practice_log.rows.log_records import InstrumentUsed


def setup_for(settings: Settings, device: str) -> Setup:
    """How a device reports: as it was set up, else as the player said for any. Where its channels are those of another
    instrument nobody can tell which string is which, and pitches alone count. Its strings are those behind the capo.
    """
    if settings.instrument is InstrumentKind.KEYBOARD:
        return KeyboardSetup()
    known, tuning = settings.devices.get(device), tuning_named(settings.tuning)
    if known is not None and known.keyboard:
        return KeyboardSetup(known.delay)
    if (known is not None and known.channels is None) or channels_of_others(settings, device) is not None:
        known = known or DeviceSettings()
        return PitchesSetup(settings.limits, known.delay, known.bend_semitones)
    return StringsSetup(
        channels=known.channels
        if known and known.channels
        else channels_from(settings.base_channel, strings=tuning.strings),
        tuning=tuning.raised(settings.capo_in_use),
        frets=settings.frets_left,
        bend_semitones=known.bend_semitones if known else USUAL_BEND_SEMITONES,
        limits=settings.limits,
        delay=known.delay if known else Delay(),
        assumed=known is None,
    )


def channels_of_others(settings: Settings, device: str) -> Message | None:
    """Why the channels of a device are not the strings of the player's tuning: it was set up for another number of
    them, or they run past the last channel. None where they can be, and for what reports no strings.
    """
    if settings.instrument is InstrumentKind.KEYBOARD:
        return None
    known, strings = settings.devices.get(device), tuning_named(settings.tuning).strings
    if known is None:
        fits = settings.base_channel + strings - 1 <= CHANNELS
        return None if fits else message("device.channels_run_out", strings=strings, base=settings.base_channel)
    if known.channels is None or len(known.channels) == strings:
        return None
    return message("device.other_strings", device=device, count=len(known.channels), strings=strings)


def sound_terms(settings: Settings) -> SoundTerms | None:
    """How a guitar is heard; None where none is."""
    if not settings.by_microphone:
        return None
    known = settings.microphones.get(settings.microphone) or MicrophoneSettings()
    return SoundTerms(
        name=settings.microphone,
        channel=known.channel,
        delay_s=known.delay_ms / 1000,
        floor_db=known.floor_db,
        own_clicks=settings.hears_itself,
        lowest_string=min(settings.tuning_as_it_sounds.open_strings),
    )


def too_low_to_hear(settings: Settings) -> Message | None:
    """That the lowest strings of the player's tuning are heard by a microphone in part, or not; None where they are
    heard, or where none listens.
    """
    if not settings.by_microphone or min(settings.tuning_as_it_sounds.open_strings) >= SURELY_HEARD:
        return None
    return message("sound_input.too_low", sure=note_name(SURELY_HEARD), lowest=note_name(LOWEST_HEARD))


def used_by(settings: Settings) -> InstrumentUsed | None:
    """What is played on, as far as the player said so; None where it is known by the first note alone."""
    if settings.instrument is InstrumentKind.NO_PICKUP:
        return InstrumentUsed(name="", kind=PlayedOn.NO_PICKUP)
    if settings.by_microphone:
        return InstrumentUsed(name=settings.microphone, kind=PlayedOn.HEARD)
    return None
