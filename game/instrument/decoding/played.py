"""What every instrument gives: played notes, whatever they were played on. Pure."""

from dataclasses import dataclass
from enum import Enum

from game.instrument.decoding.dirt import Dirt
from game.neck.tuning import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedNote:
    """One note as it was played.

    `started_s` is on the master clock, the instrument's delay taken out; `sounding` a MIDI number; `place`
    None when the instrument does not report strings; `velocity` 1 to 127; `source` the name of the device.
    `arrived_s` is when a slide, hammer-on or bend came to this pitch, None for a note plucked as it is. `heard` where a
    guitar was heard by its sound; `sure` is False for a note that was, and could have been something else as well.
    """

    started_s: float
    sounding: int
    place: Place | None
    velocity: int = 80
    source: str = ""
    arrived_s: float | None = None
    heard: bool = False
    sure: bool = True


class OffNeck(Enum):
    """Why a note has no place although the instrument reports strings."""

    BELOW_STRING = "below the open string"
    BEYOND_FRETS = "beyond the last fret"
    NO_STRING = "not on a string's channel"


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteStarted:
    """A note began. `channel` is 1 to 16; `off_neck` says why a guitar's note has no place, None when it
    has one.
    """

    note: PlayedNote
    channel: int
    off_neck: OffNeck | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteSettled:
    """A note was released, or the next began on its string, at `ended_s` as the device told it.

    `note` is the note as it was told last. Only a jump of octaves that turns out to be none is taken back
    after that; the note it seemed to end then sounds on.
    """

    note: PlayedNote
    channel: int
    ended_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteRevised:
    """A note that was told as `before` turns out to be `after`: another pitch arrived at, or None, for it
    was `dirt` that nobody played. `off_neck` is said of `after`.
    """

    before: PlayedNote
    after: PlayedNote | None
    channel: int
    dirt: Dirt | None = None
    off_neck: OffNeck | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteFiltered:
    """A note that was never told, for what it was is clear at once."""

    note: PlayedNote
    channel: int
    dirt: Dirt


NoteEvent = NoteStarted | NoteRevised | NoteFiltered | NoteSettled


@dataclass(frozen=True, slots=True)
class PedalPressed:
    """A pedal that commands was pressed, at `at_s` on the master clock."""

    at_s: float


@dataclass(frozen=True, slots=True)
class RotatesChannels:
    """A device said that its channels stand for no strings (MPE): from now on its pitches count, its places not."""

    device: str


@dataclass(frozen=True, slots=True)
class PlaysOnOneChannel:
    """All of a device that nobody set up comes on one channel, which cannot be a string's: its pitches count, its
    places not. `surely` once that was so for long enough to be kept.
    """

    device: str
    surely: bool


@dataclass(frozen=True, slots=True)
class BendRangeInferred:
    """A device that never said how far it bends does so by `semitones`, as what was played tells."""

    device: str
    semitones: float
