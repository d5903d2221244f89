"""What a line is asked to be."""

from collections.abc import Mapping
from dataclasses import dataclass

from game.lines.levels import Level
from game.lines.rhythms import Rhythm
from game.lines.scale import Scale
from game.music.meter import Meter

# What a note of weight 0 counts for: it comes where there is no other.
_LAST_RESORT = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class LineRequest:
    """Levels of pitch and rhythm, key and map, metre and length. `weights` by written MIDI number say how much
    likelier a note is; one without weighs 1, one of weight 0 is left out. `fingers` are finger and string by written
    MIDI number, `stretches` those that lie under no finger.
    """

    level: Level
    rhythm: Rhythm
    scale: Scale
    meter: Meter
    bars: int
    weights: Mapping[int, float]
    fingers: Mapping[int, tuple[int, int]]
    stretches: frozenset[int] = frozenset()

    def wish(self, midi: int) -> float:
        """How much likelier a note is by the player's weights. More than 0: a line may have no other way on."""
        return max(_LAST_RESORT, self.weights.get(midi, 1.0))
