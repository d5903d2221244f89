"""What the player has settled: look, practice, guitar. Each setting is declared here once, with its bounds, where it
is shown and how it is changed; `game.player.settings_file` reads and writes them.
"""

from enum import Enum
from typing import Annotated, Any

import msgspec
from msgspec import Meta

from game.instrument.decoding.dirt import NO_LIMITS, USUAL_LIMITS, Limits
from game.instrument.decoding.usual import USUAL_PEDALS
from game.message import Message, message
from game.music.accompanying import Accompanied, Manner
from game.music.clicking import Clicking, ClickSound
from game.music.names import NoteNames
from game.music.score import Reading
from game.music.volumes import Volumes
from game.neck.hand import FrettingHand
from game.neck.neck_map import DEFAULT_POSITION, FEWEST_FRETS, NeckMap, SecondRegion, roman, standard_map
from game.neck.tuning import (
    DEFAULT_FRETS,
    FEWEST_STRINGS,
    HIGHEST_CAPO,
    MAX_FRETS,
    MOST_STRINGS,
    TUNINGS,
    Place,
    Tuning,
    tuning_named,
)
from game.player.device_settings import MOST_DEVICES, DeviceName, DeviceSettings, MicrophoneSettings
from game.player.setting_options import BelongsTo, ChangedOn, Group, Shown, options_of
from game.player.usual_note_names import usual_note_names
from game.text.language import languages, own_name

HIGHEST_BASE_CHANNEL = 17 - FEWEST_STRINGS
"""MIDI has sixteen channels, and each string needs one; more strings than the fewest begin lower."""

FRETS_ABOVE_POSITION = 3
"""The fourth finger stands so many frets above the first (see `game.neck.neck_map`)."""


class Look(Enum):
    """The paper the music is on."""

    PAPER = "paper"
    NIGHT = "night"


class MusicFace(Enum):
    """How the music is drawn."""

    ENGRAVED = "engraved"
    HANDWRITTEN = "handwritten"


class Stretches(Enum):
    """How far the hand reaches beyond its four frets."""

    BOTH = "both"
    BACK = "back"
    ON = "on"
    NONE = "none"

    @property
    def back(self) -> int:
        """How many frets the first finger reaches back."""
        return 1 if self in (Stretches.BOTH, Stretches.BACK) else 0

    @property
    def on(self) -> int:
        """How many frets the fourth finger reaches on."""
        return 1 if self in (Stretches.BOTH, Stretches.ON) else 0


class InstrumentKind(Enum):
    """What a MIDI port is taken for."""

    GUITAR = "guitar"
    KEYBOARD = "keyboard"
    NO_PICKUP = "no pickup"


# MIDI 1.0: note and controller numbers 0 to 127.
_NoteNumber = Annotated[int, Meta(ge=0, le=127)]
_Controller = Annotated[int, Meta(ge=0, le=127)]
_CONTROLLERS = 128
_String = Annotated[int, Meta(ge=1, le=MOST_STRINGS)]
_Fret = Annotated[int, Meta(ge=0, le=MAX_FRETS)]
_Position = Annotated[int, Meta(ge=1, le=MAX_FRETS - FRETS_ABOVE_POSITION)]


def _language_steps() -> tuple[str, ...]:
    return ("", *languages())


def _language_words(language: str) -> Message:
    """Each language by its own name: whoever looks for it can read that."""
    return own_name(language) if language else message("settings.language.of_the_system")


def _tuning_words(tuning: str) -> Message:
    """One of the table by its name, another by its notes."""
    return tuning_named(tuning).told


def _capo_words(capo: int) -> Message:
    return message("settings.capo.fret", fret=roman(capo)) if capo else message("settings.capo.none")


def _volume_words(volume: float) -> Message:
    return message("settings.volume.tenths", tenths=round(10 * volume))


def _text_size_words(percent: int) -> Message:
    return message("settings.text_size.percent", percent=percent)


def _line_level_words(level: int) -> Message:
    return message(f"settings.line_level.{level}")


def _limits_words(limits: Limits) -> Message:
    return message("settings.limits.kept" if limits == NO_LIMITS else "settings.limits.filtered")


_VOLUME = Shown(
    Group.PRACTICE, BelongsTo.COMPUTER, steps=tuple(tenths / 10 for tenths in range(11)), words=_volume_words
)


class Settings(msgspec.Struct, frozen=True, kw_only=True):
    """All settings with their defaults.

    `language` is a language of the catalogue, empty for the system's. `staff_space_px` is the distance of two staff
    lines at a window 1080 px high; at least 22 is easy to read from a metre away. `text_size` is how large all
    is drawn, in percent: above 100 the window shows a part of it at a time.
    `still_desk` stops all motion but that of the staff. `still` shows lines that stand still in timed stages, `slip`
    covers the bar being played, `marks_in_take` writes with the click what was wrong once its bar has been left, and
    not only after the take. `volume` is that of the click, all volumes are 0 to 1; `accompanied` says what bass and
    chords are heard with, `manner` how they go.
    `target_bpm`, in the metre's own beat, is the tempo at which a passage is signed off. `line_level` is that of fresh
    lines, `plan_minutes` how long today's plan is.
    `capo` is the fret of a capo, 0 for none: the page is read, and frets counted, from it.
    `base_channel` is the MIDI channel of string 1. `choices` are homes chosen by hand: sounding pitch to
    (string, fret); `stretches` and `open_strings` are the hand; `second` is a region joined to that of the position:
    its position, and the lowest sounding pitch of the higher of both.
    `device` is the one listened to, empty for whichever plays; `devices` how each reports, by its name;
    `microphone` is the audio input by which a guitar is heard, empty for none, `microphones` how each is listened
    to, by its name; `pedals` the controllers that command; `limits` by what a pickup's dirt is told apart.

    How music is read, practised and fingered is the player's: taste, names, targets, the map and the neck it lies on.
    What goes by the desk is the computer's: instruments and pedals, how loud it plays, how large it shows music, since
    screens stand nearer or farther away, and the language, which on a school's computer is the school's.
    """

    look: Annotated[Look, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = Look.PAPER
    music_face: Annotated[MusicFace, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = MusicFace.ENGRAVED
    staff_space_px: Annotated[
        int, Meta(ge=16, le=48), Shown(Group.APPEARANCE, BelongsTo.COMPUTER, steps=range(16, 49, 2))
    ] = 26
    text_size: Annotated[
        int,
        Meta(ge=100, le=200),
        Shown(Group.APPEARANCE, BelongsTo.COMPUTER, steps=(100, 125, 150, 175, 200), words=_text_size_words),
    ] = 100
    still: Annotated[bool, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = False
    slip: Annotated[bool, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = False
    note_names: Annotated[NoteNames, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = NoteNames.ENGLISH
    language: Annotated[
        str,
        Meta(max_length=20),
        Shown(Group.APPEARANCE, BelongsTo.COMPUTER, steps=_language_steps, words=_language_words),
    ] = ""
    still_desk: Annotated[bool, Shown(Group.APPEARANCE, BelongsTo.PLAYER)] = False

    waits: Annotated[bool, Shown(Group.PRACTICE, BelongsTo.PLAYER)] = True
    marks_in_take: Annotated[bool, Shown(Group.PRACTICE, BelongsTo.PLAYER)] = False
    clicking: Annotated[Clicking, Shown(Group.PRACTICE, BelongsTo.PLAYER)] = Clicking.EVERY_BEAT
    volume: Annotated[float, Meta(ge=0, le=1), _VOLUME] = 0.6
    target_bpm: Annotated[int, Meta(ge=1, le=400), Shown(Group.PRACTICE, BelongsTo.PLAYER, steps=range(50, 201, 5))] = (
        100
    )
    line_level: Annotated[
        int, Meta(ge=1, le=8), Shown(Group.PRACTICE, BelongsTo.PLAYER, steps=range(1, 9), words=_line_level_words)
    ] = 1
    accompanied: Annotated[Accompanied, Shown(Group.PRACTICE, BelongsTo.PLAYER)] = Accompanied.WHOLE
    manner: Annotated[Manner, Shown(Group.PRACTICE, BelongsTo.PLAYER)] = Manner.BY_TUNE
    guitar_volume: Annotated[float, Meta(ge=0, le=1), _VOLUME] = 0.6
    accompaniment_volume: Annotated[float, Meta(ge=0, le=1), _VOLUME] = 0.6
    plan_minutes: Annotated[int, Meta(ge=5, le=90), Shown(Group.PRACTICE, BelongsTo.PLAYER, on=ChangedOn.TODAY)] = 20

    instrument: Annotated[InstrumentKind, Shown(Group.GUITAR, BelongsTo.COMPUTER)] = InstrumentKind.GUITAR
    base_channel: Annotated[
        int,
        Meta(ge=1, le=HIGHEST_BASE_CHANNEL),
        Shown(Group.GUITAR, BelongsTo.COMPUTER, steps=range(1, HIGHEST_BASE_CHANNEL + 1)),
    ] = 1
    tuning: Annotated[
        str, Meta(max_length=60), Shown(Group.GUITAR, BelongsTo.PLAYER, steps=tuple(TUNINGS), words=_tuning_words)
    ] = "standard"
    capo: Annotated[
        int,
        Meta(ge=0, le=HIGHEST_CAPO),
        Shown(Group.GUITAR, BelongsTo.PLAYER, steps=range(HIGHEST_CAPO + 1), words=_capo_words),
    ] = 0
    reading: Annotated[Reading, Shown(Group.GUITAR, BelongsTo.PLAYER)] = Reading.GUITAR
    left_handed: Annotated[bool, Shown(Group.GUITAR, BelongsTo.PLAYER)] = False
    wants_home: Annotated[bool, Shown(Group.GUITAR, BelongsTo.PLAYER)] = False
    limits: Annotated[
        Limits,
        Shown(Group.GUITAR, BelongsTo.COMPUTER, steps=(USUAL_LIMITS, NO_LIMITS), words=_limits_words),
    ] = USUAL_LIMITS
    position: Annotated[_Position, Shown(Group.GUITAR, BelongsTo.PLAYER, on=ChangedOn.MAP)] = DEFAULT_POSITION
    choices: Annotated[
        dict[_NoteNumber, tuple[_String, _Fret]], Shown(Group.GUITAR, BelongsTo.PLAYER, on=ChangedOn.MAP)
    ] = {}
    stretches: Annotated[Stretches, Shown(Group.GUITAR, BelongsTo.PLAYER)] = Stretches.BOTH
    open_strings: Annotated[bool, Shown(Group.GUITAR, BelongsTo.PLAYER)] = False
    second: Annotated[tuple[_Position, _NoteNumber] | None, Shown(Group.GUITAR, BelongsTo.PLAYER, on=ChangedOn.MAP)] = (
        None
    )
    frets: Annotated[
        int, Meta(ge=FEWEST_FRETS, le=MAX_FRETS), Shown(Group.GUITAR, BelongsTo.PLAYER, on=ChangedOn.FILE)
    ] = DEFAULT_FRETS
    device: Annotated[DeviceName, Shown(Group.GUITAR, BelongsTo.COMPUTER, on=ChangedOn.INSTRUMENTS)] = ""
    devices: Annotated[
        dict[DeviceName, DeviceSettings],
        Meta(max_length=MOST_DEVICES),
        Shown(Group.GUITAR, BelongsTo.COMPUTER, on=ChangedOn.INSTRUMENTS),
    ] = {}
    microphone: Annotated[DeviceName, Shown(Group.GUITAR, BelongsTo.COMPUTER, on=ChangedOn.INSTRUMENTS)] = ""
    microphones: Annotated[
        dict[DeviceName, MicrophoneSettings],
        Meta(max_length=MOST_DEVICES),
        Shown(Group.GUITAR, BelongsTo.COMPUTER, on=ChangedOn.INSTRUMENTS),
    ] = {}
    pedals: Annotated[
        tuple[_Controller, ...],
        Meta(max_length=_CONTROLLERS),
        Shown(Group.GUITAR, BelongsTo.COMPUTER, on=ChangedOn.INSTRUMENTS),
    ] = USUAL_PEDALS

    @property
    def volumes(self) -> Volumes:
        """How loud each part of the sound is, and how much higher a capo makes it; where bass and chords are never
        wished they are silent. Where a microphone listens the click is one that is not taken for a note.
        """
        off = self.accompanied is Accompanied.NOTHING
        return Volumes(
            click=self.volume,
            guitar=self.guitar_volume,
            accompaniment=0.0 if off else self.accompaniment_volume,
            click_sound=ClickSound.BRIGHT if self.by_microphone else ClickSound.WOODEN,
            raised=self.capo_in_use,
        )

    @property
    def by_microphone(self) -> bool:
        """Whether a guitar is heard by a microphone or an audio interface."""
        return bool(self.microphone) and self.instrument is InstrumentKind.GUITAR

    @property
    def hears_itself(self) -> bool:
        """Whether what the game plays reaches the microphone that a guitar is heard by: unless headphones were said."""
        heard_by = self.microphones.get(self.microphone) or MicrophoneSettings()
        return self.by_microphone and not heard_by.headphones

    @property
    def capo_in_use(self) -> int:
        """The fret of the capo; 0 without one, and for whoever plays a keyboard."""
        return 0 if self.instrument is InstrumentKind.KEYBOARD else self.capo

    @property
    def tells_places(self) -> bool:
        """Whether it is known where on the neck a note was played: by a pickup, or on the neck on screen."""
        return self.instrument is InstrumentKind.GUITAR and not self.microphone

    @property
    def frets_left(self) -> int:
        """How many frets the neck has from the capo on."""
        return self.frets - self.capo_in_use

    @property
    def tuning_as_it_sounds(self) -> Tuning:
        """The open strings behind the capo."""
        return tuning_named(self.tuning).raised(self.capo_in_use)

    def neck_map(self) -> NeckMap:
        """The player's map."""
        return standard_map(
            position=self.position,
            tuning=tuning_named(self.tuning),
            frets=self.frets_left,
            reading=self.reading,
            choices={sounding: Place(*place) for sounding, place in self.choices.items()},
            hand=FrettingHand(back=self.stretches.back, on=self.stretches.on, open_strings=self.open_strings),
            second=SecondRegion(position=self.second[0], seam=self.second[1]) if self.second else None,
        )

    def changed(self, name: str, value: Any) -> "Settings":
        """These settings with another value for one of them. Homes chosen by hand belong to the tuning they were chosen
        in, and go with it. Whoever is heard by a microphone plays a guitar, and whoever says that they play something
        else, or mark themselves, is not heard by one. Names of notes that are those of the language go with it. Raises
        `MapError` where the map would not fit the neck.
        """
        settings = msgspec.structs.replace(self, **{name: value})
        if name == "tuning":
            settings = msgspec.structs.replace(settings, choices={})
        elif name == "microphone" and value:
            settings = msgspec.structs.replace(settings, instrument=InstrumentKind.GUITAR)
        elif name == "instrument" and value is not InstrumentKind.GUITAR:
            settings = msgspec.structs.replace(settings, microphone="")
        elif name == "language" and self.note_names is usual_note_names(self.language):
            settings = msgspec.structs.replace(settings, note_names=usual_note_names(value))
        settings.neck_map()
        return settings

    def for_a_new_player(self) -> "Settings":
        """What a new player at this computer finds: its instruments set up as they are, the rest as it is at first."""
        instruments = (
            name
            for name, option in OPTIONS.items()
            if option.group is Group.GUITAR and option.shown.belongs_to is BelongsTo.COMPUTER
        )
        return Settings(note_names=usual_note_names(), **{name: getattr(self, name) for name in instruments})


OPTIONS = options_of(Settings)
"""Every setting by its name."""
