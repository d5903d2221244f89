"""What every instrument gives: played notes, whatever they were played on. Pure."""

from dataclasses import dataclass
from enum import Enum

from game.neck.tuning import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedNote:
    """One note as it was played.

    `started_s` is on the master clock; `sounding` a MIDI number; `place` None when the instrument does not
    report strings; `velocity` 1 to 127; `source` the name of the device.
    """

    started_s: float
    sounding: int
    place: Place | None
    velocity: int = 80
    source: str = ""


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
    """A note will not change any more: it was released, or the next began on its string, at `ended_s`.

    `note` equals the one that was started.
    """

    note: PlayedNote
    channel: int
    ended_s: float


NoteEvent = NoteStarted | NoteSettled
