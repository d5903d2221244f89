"""What every instrument gives: played notes, whatever they were played on. Pure."""

from dataclasses import dataclass

from game.neck.tuning import Place


@dataclass(frozen=True, slots=True, kw_only=True)
class PlayedNote:
    """One note as it was played.

    `started_s` is on the master clock; `sounding` a MIDI number; `place` None when the instrument does not report
    strings; `velocity` 1 to 127; `source` the name of the device.
    """

    started_s: float
    sounding: int
    place: Place | None
    velocity: int = 80
    source: str = ""
