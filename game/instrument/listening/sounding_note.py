"""The note that sounds now, as it is known so far."""

from dataclasses import dataclass, field
from math import log10
from typing import Required, TypedDict

from game.instrument.listening.difference_function import Estimate
from game.instrument.listening.heard import HeardNote
from game.instrument.listening.pitch_track import PitchTrack


class Known(TypedDict, total=False):
    """What is known of a note beside its pitch: `is_faint` where its attack made nothing louder, `clears`
    where it is sure after all once it keeps its pitch.
    """

    strength: Required[float]
    slurred: bool
    is_faint: bool
    sure: bool
    clears: bool


@dataclass(slots=True)
class SoundingNote:
    """Changed while it is followed. `began` is the number of a sample; `power` that of what is periodic, `strength` how
    loud its attack was.
    """

    number: int
    began: int
    estimate: Estimate
    power: float
    track: PitchTrack
    strength: float
    sure: bool = True
    slurred: bool = False
    is_faint: bool = False
    clears: bool = False
    is_settled: bool = False
    elsewhere: list[float] = field(default_factory=list)
    """The pitches that were heard in a row instead of its own."""
    higher: int = 0
    """The steps in a row in which a partial was as clear as the note."""
    quiet_steps: int = 0

    def heard(self, started_s: float) -> HeardNote:
        """What is told of it; its beginning in seconds of the stream."""
        return HeardNote(
            number=self.number,
            started_s=started_s,
            pitch=self.estimate.pitch,
            level_db=10 * log10(max(self.power, 1e-12)),
            clarity=self.estimate.clarity,
            sure=self.sure,
            slurred=self.slurred,
        )
