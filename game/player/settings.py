"""What the player has settled: look, names, map, instrument. One readable JSON file, all faults told at once."""

import os
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from game.audio.clicking import Clicking
from game.errors import InstrumentError, MapError, SettingsError
from game.instrument.decoding.delay import USUAL_PERIODS, Delay
from game.instrument.decoding.dirt import USUAL_LIMITS, Limits
from game.instrument.decoding.usual import USUAL_BEND_SEMITONES, USUAL_PEDALS
from game.music.names import NoteNames
from game.music.score import Reading
from game.neck.neck_map import DEFAULT_POSITION, NeckMap, standard_map
from game.neck.tuning import DEFAULT_FRETS, Place, tuning_named

if TYPE_CHECKING:
    from game.instrument.decoding.hearing import Setup

# Six strings need six channels, and MIDI has sixteen.
HIGHEST_BASE_CHANNEL = 11


class Look(Enum):
    """The paper the music is on."""

    PAPER = "paper"
    NIGHT = "night"


class MusicFace(Enum):
    """How the music is drawn."""

    ENGRAVED = "engraved"
    HANDWRITTEN = "handwritten"


class InstrumentKind(Enum):
    """What a MIDI port is taken for."""

    GUITAR = "guitar"
    KEYBOARD = "keyboard"
    NO_PICKUP = "no pickup"


class DeviceSettings(msgspec.Struct, frozen=True, kw_only=True):
    """How one device reports, as it was found by playing.

    `channels` are those of strings 1 to 6, None for a device that does not report strings. `bend_semitones` is its full
    bend; `constant_ms` and `periods` its delay, the usual one until it is `calibrated`.
    """

    channels: tuple[int, ...] | None = None
    bend_semitones: float = USUAL_BEND_SEMITONES
    constant_ms: float = 0.0
    periods: float = USUAL_PERIODS
    calibrated: bool = False

    @property
    def delay(self) -> Delay:
        """What is taken out of the times of its notes."""
        return Delay(constant_s=self.constant_ms / 1000, periods=self.periods)


class Settings(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=False):
    """All settings with their defaults. `choices` are homes chosen by hand: sounding pitch to (string, fret).

    `staff_space_px` is the distance of two staff lines at a window 1080 px high; at least 22 is easy to read from a
    metre away. `language` is a code such as "de", "" for that of the system's locale. `base_channel` is the MIDI
    channel of string 1, 1 to 11. `still` shows lines that stand still in timed stages, `slip` covers the bar being
    played. `volume` is 0 to 1; `target_bpm`, in the metre's own beat, is the tempo at which a passage is signed off.
    `line_level` is that of fresh lines, 1 to 8,
    `plan_minutes` how long today's plan is.
    `device` is the one listened to, empty for whichever plays; `devices` how each reports, by its name; `pedals` the
    controllers that command; `limits` by what a pickup's dirt is told apart.
    """

    look: Look = Look.PAPER
    music_face: MusicFace = MusicFace.ENGRAVED
    note_names: NoteNames = NoteNames.ENGLISH
    language: str = ""
    left_handed: bool = False
    staff_space_px: int = 26
    position: int = DEFAULT_POSITION
    tuning: str = "standard"
    frets: int = DEFAULT_FRETS
    reading: Reading = Reading.GUITAR
    choices: dict[int, tuple[int, int]] = {}
    waits: bool = True
    wants_home: bool = False
    instrument: InstrumentKind = InstrumentKind.GUITAR
    base_channel: int = 1
    still: bool = False
    slip: bool = False
    volume: float = 0.6
    clicking: Clicking = Clicking.EVERY_BEAT
    target_bpm: int = 100
    line_level: int = 1
    plan_minutes: int = 20
    device: str = ""
    devices: dict[str, DeviceSettings] = {}
    pedals: tuple[int, ...] = USUAL_PEDALS
    limits: Limits = USUAL_LIMITS

    def setup_for(self, device: str) -> "Setup":
        """How a device reports: as it was set up, else as the player said for any. Raises `InstrumentError` for
        channels that cannot be strings.
        """
        # Not before the first frame.
        from game.instrument.decoding.hearing import KeyboardSetup  # noqa: PLC0415
        from game.instrument.decoding.pitches import PitchesSetup  # noqa: PLC0415
        from game.instrument.decoding.strings_setup import StringsSetup, channels_from  # noqa: PLC0415

        if self.instrument is InstrumentKind.KEYBOARD:
            return KeyboardSetup()
        known = self.devices.get(device)
        if known is not None and known.channels is None:
            return PitchesSetup(self.limits, known.delay)
        return StringsSetup(
            channels=known.channels if known and known.channels else channels_from(self.base_channel),
            tuning=tuning_named(self.tuning),
            frets=self.frets,
            bend_semitones=known.bend_semitones if known else USUAL_BEND_SEMITONES,
            limits=self.limits,
            delay=known.delay if known else Delay(),
        )

    def neck_map(self) -> NeckMap:
        """The player's map."""
        return standard_map(
            position=self.position,
            tuning=tuning_named(self.tuning),
            frets=self.frets,
            reading=self.reading,
            choices={sounding: Place(*place) for sounding, place in self.choices.items()},
        )


def load(path: Path) -> Settings:
    """The settings in `path`; defaults when there is no file. Raises `SettingsError` when it cannot be used."""
    try:
        text = path.read_bytes()
    except FileNotFoundError:
        return Settings()
    except OSError as error:
        raise SettingsError("player.settings_read_defaults_used", path=path, strerror=error.strerror) from error
    try:
        settings = msgspec.json.decode(text, type=Settings)
        settings.neck_map()
        for name in settings.devices:
            settings.setup_for(name)
    except (msgspec.MsgspecError, MapError, InstrumentError) as error:
        raise SettingsError("player.settings_do_make_sense", path=path, error=error) from error
    if not 1 <= settings.base_channel <= HIGHEST_BASE_CHANNEL:
        raise SettingsError(
            "player.settings_name_base_channel",
            path=path,
            base_channel=settings.base_channel,
            highest_base_channel=HIGHEST_BASE_CHANNEL,
        )
    if not (1 <= settings.target_bpm <= 400 and 0 <= settings.volume <= 1 and 1 <= settings.line_level <= 8):
        raise SettingsError("player.settings_target_bpm_volume", path=path)
    if not 5 <= settings.plan_minutes <= 90:
        raise SettingsError("player.settings_plan_minutes_day", path=path, plan_minutes=settings.plan_minutes)
    return settings


def save(settings: Settings, path: Path) -> None:
    """Write the settings so that a crash leaves the old file or the new one, never half of one."""
    path.parent.mkdir(parents=True, exist_ok=True)
    draft = path.with_suffix(".new")
    draft.write_bytes(msgspec.json.format(msgspec.json.encode(settings), indent=2))
    os.replace(draft, path)  # noqa: PTH105 - replaces on every system, atomically
