"""An audio input as the rest of the program sees it: how it is listened to, how loud it is, what was recorded."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


USUAL_FLOOR_DB = -58.0
"""Against full scale: what no note is under where nobody has measured the noise of an input."""


SOUND_ENDINGS = (".wav", ".flac")
"""Of files with sound that are written."""

SILENCE_DB = -120.0
"""What nothing is told as: less than a converter of 20 bits can tell from it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundInput:
    """An audio input that there is: its name, how many channels it has, and how many samples a second are its
    own.
    """

    name: str
    channels: int
    rate: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundTerms:
    """How to listen: the input by its name, its channel from 1, what is taken out of times of notes, and the power
    against full scale under which nothing is a note, as it was measured. Where our own clicks reach it (`own_clicks`)
    they are taken out before anything listens. `lowest_string` is the MIDI number of the lowest open string, as it
    sounds.
    """

    name: str
    channel: int = 1
    delay_s: float = 0.0
    floor_db: float = USUAL_FLOOR_DB
    own_clicks: bool = False
    lowest_string: int = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class SoundLevel:
    """How loud the input was of late, in dB against full scale; `hum_db` what of it is mains hum. `clipped` counts
    samples at full scale, `lost` the times the system lost sound, both since the input was opened.
    """

    rms_db: float
    peak_db: float
    hum_db: float
    clipped: int = 0
    lost: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tone:
    """The pitch that sounds now, a MIDI number with its fraction, and how periodic it is, 0 to 1."""

    pitch: float
    clarity: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedSound:
    """What was recorded when it was asked for: mono `samples` from -1 to 1; the first came at `started_s` on the
    master clock, as far as the system tells.
    """

    started_s: float
    rate: int
    samples: "NDArray[np.float32]"
