"""The answer of `homefret devices`."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from game.commands.answers.kinds import Answer, Channel, Fret, Ordinal, Sounding, String, Velocity, Words
from game.instrument.decoding.dirt import Dirt
from game.instrument.decoding.played import OffNeck

Api = Annotated[str, Meta(extra_json_schema={"enum": ["alsa", "jack", "coremidi", "winmm", "portmidi"]})]
Cents = Annotated[int, Meta(ge=-50, le=50, description="above that MIDI number, in hundredths of a semitone")]
SinceBegin = Annotated[float, Meta(description="milliseconds since the watch began")]


class Port(Answer, frozen=True, kw_only=True):
    """A MIDI port. `device` is the part of its name that stays when the device is plugged in again."""

    port: Annotated[str, Meta(description="the name the system gives it")]
    device: Annotated[str, Meta(description="the part of it that stays when the device is plugged in again")]
    instrument: Annotated[bool, Meta(description="false for a port that only passes on other programs")]


class Became(Answer, frozen=True, kw_only=True):
    """What a slide, hammer-on, bend or first guess came to."""

    sounding: Sounding
    string: String | None
    fret: Fret | None


class WatchedNote(Answer, frozen=True, kw_only=True):
    """A note that counted when it came. What it became, or why it is dirt after all, may be known only later."""

    time_ms: SinceBegin
    device: str
    channel: Channel
    string: String | None
    fret: Fret | None
    sounding: Sounding
    velocity: Velocity
    bend: Annotated[int, Meta(ge=-8192, le=8191, description="in force when the note began")]
    delay_ms: Annotated[float, Meta(description="how late the device is held to be with this note")]
    off_neck: Annotated[OffNeck | None, Meta(description="why a guitar's note has no place")]
    filter: Annotated[Dirt | None, Meta(description="why it turned out to be dirt; null for a note that counts")] = None
    became: Annotated[Became | None, Meta(description="null for a note that stayed")] = None


class FilteredNote(Answer, frozen=True, kw_only=True):
    """A note that was dirt from the first and never counted."""

    time_ms: SinceBegin
    device: str
    channel: Channel
    sounding: int
    velocity: Velocity
    filter: Dirt


class InputForSound(Answer, frozen=True, kw_only=True):
    """An audio input: a microphone, or an audio interface."""

    name: Annotated[str, Meta(description="by which it is chosen; it stays when the input is plugged in again")]
    channels: Ordinal
    rate: Annotated[int, Meta(ge=1, description="samples a second, its own")]


class BecameSound(Answer, frozen=True, kw_only=True):
    """What a first hearing came to."""

    sounding: Sounding
    cents: Cents


class WatchedSound(Answer, frozen=True, kw_only=True):
    """A note that was heard. What it became, or that it was none after all, may be known only later."""

    time_ms: SinceBegin
    input: str
    sounding: Sounding
    cents: Cents
    level_db: Annotated[float, Meta(description="its power against full scale")]
    sure: Annotated[bool, Meta(description="false where the sound could have been something else as well")]
    slurred: Annotated[bool, Meta(description="true where the pitch changed without a pluck")]
    became: Annotated[BecameSound | None, Meta(description="null for a note that stayed")] = None
    withdrawn: Annotated[bool, Meta(description="true where it turned out to be no note")] = False


class Change(Answer, frozen=True, kw_only=True):
    """A device or an audio input that came or went, or could not be listened to."""

    change: Literal["found", "lost", "refused"]
    device: str
    time_ms: SinceBegin


class Watched(Answer, frozen=True, kw_only=True):
    """What was played while watching (the last 100,000 notes), and which devices came and went."""

    notes: list[WatchedNote]
    filtered: list[FilteredNote]
    dirt: Annotated[dict[str, Ordinal], Meta(description="all that was filtered, counted by kind")]
    changes: list[Change]


class DevicesAnswer(Answer, frozen=True, kw_only=True):
    """The MIDI ports and the audio inputs there are. With --watch, printed when the watch ends: also what `Watched`
    holds, or with --input what was `heard`.
    """

    api: Annotated[Api | None, Meta(description="the MIDI system that answers, null for none")]
    found: Annotated[Words, Meta(description="what was found, in one sentence")]
    ports: list[Port]
    inputs: Annotated[
        list[InputForSound] | UnsetType,
        Meta(description="left out while MIDI is watched: a system takes its time to tell"),
    ] = UNSET
    heard: list[WatchedSound] | UnsetType = UNSET
    notes: list[WatchedNote] | UnsetType = UNSET
    filtered: list[FilteredNote] | UnsetType = UNSET
    dirt: dict[str, Ordinal] | UnsetType = UNSET
    changes: list[Change] | UnsetType = UNSET
