"""What is told of a guitar that is heard: notes with a pitch, and no place. Pure.

Times are seconds of the stream, samples fed over the rate: whoever captures the sound knows when it began.
"""

from dataclasses import dataclass
from enum import Enum


class Telling(Enum):
    """What became of a note. Each is started once; then it may be revised, is settled or withdrawn, and ends."""

    STARTED = "started"
    REVISED = "revised"
    SETTLED = "settled"
    WITHDRAWN = "withdrawn"
    ENDED = "ended"


@dataclass(frozen=True, slots=True, kw_only=True)
class HeardNote:
    """One note as it was heard.

    `number` is the same in all that is told of it. `started_s` is when it was plucked, or, of a note that was
    `slurred`, when its pitch changed; `pitch` a MIDI number with its fraction (69.0 is 440 Hz); `level_db` its power
    against full scale; `clarity`, 0 to 1, how periodic it was. `sure` is False where the sound could have been
    something else as well.
    """

    number: int
    started_s: float
    pitch: float
    level_db: float
    clarity: float
    sure: bool = True
    slurred: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """Something told of a note, at `at_s` of the stream."""

    telling: Telling
    note: HeardNote
    at_s: float
