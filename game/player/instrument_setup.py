"""How an instrument reports, as the settings have it. Not needed before the first frame, and loaded after it."""

from game.instrument.decoding.delay import Delay
from game.instrument.decoding.instrument_state import KeyboardSetup, Setup
from game.instrument.decoding.pitches import PitchesSetup
from game.instrument.decoding.strings_setup import StringsSetup, channels_from
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES
from game.instrument.ports.sound_input import SoundTerms
from game.instrument.sources.note_sources import PlayedOn
from game.neck.tuning import tuning_named
from game.player.settings import InstrumentKind, MicrophoneSettings, Settings
from game.practice_log.rows.log_records import InstrumentUsed


def setup_for(settings: Settings, device: str) -> Setup:
    """How a device reports: as it was set up, else as the player said for any. Raises `InstrumentError` for channels
    that cannot be strings.
    """
    if settings.instrument is InstrumentKind.KEYBOARD:
        return KeyboardSetup()
    known = settings.devices.get(device)
    if known is not None and known.channels is None:
        return PitchesSetup(settings.limits, known.delay, known.bend_semitones)
    return StringsSetup(
        channels=known.channels if known and known.channels else channels_from(settings.base_channel),
        tuning=tuning_named(settings.tuning),
        frets=settings.frets,
        bend_semitones=known.bend_semitones if known else USUAL_BEND_SEMITONES,
        limits=settings.limits,
        delay=known.delay if known else Delay(),
    )


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
    )


def used_by(settings: Settings) -> InstrumentUsed | None:
    """What is played on, as far as the player said so; None where it is known by the first note alone."""
    if settings.instrument is InstrumentKind.NO_PICKUP:
        return InstrumentUsed(name="", kind=PlayedOn.NO_PICKUP)
    if settings.by_microphone:
        return InstrumentUsed(name=settings.microphone, kind=PlayedOn.HEARD)
    return None
