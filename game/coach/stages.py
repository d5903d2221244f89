"""What is asked of the player, and by which clock. Each stage adds a single demand.

A new stage is a line here, its way on in `stage_steps`, its page in `screens/reading` and the line that chooses it in
`page_for`, and its words in the catalogue.
"""

from dataclasses import dataclass
from enum import Enum


class Stage(Enum):
    """What is asked."""

    LETTERS = "letters"
    PLACES = "places"
    RHYTHM = "rhythm"
    TIME = "time"
    SIGHT = "sight"

    @property
    def named(self) -> bool:
        """Whether notes are named instead of played."""
        return _DEMANDS[self].named

    @property
    def pitch_counts(self) -> bool:
        """Whether it matters which note is played."""
        return _DEMANDS[self].pitch

    @property
    def rhythm_counts(self) -> bool:
        """Whether it matters when a note is played."""
        return _DEMANDS[self].rhythm

    @property
    def once_through(self) -> bool:
        """Whether the music is met for the first time: once through, as notated, and no help."""
        return _DEMANDS[self].once_through

    @property
    def following(self) -> "Stage":
        """The stage that the player's own choice comes to next; from one that is not in turn, the places."""
        if self not in IN_TURN:
            return Stage.PLACES
        return IN_TURN[(IN_TURN.index(self) + 1) % len(IN_TURN)]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Demands:
    named: bool = False
    pitch: bool = True
    rhythm: bool = False
    once_through: bool = False


_DEMANDS = {
    Stage.LETTERS: _Demands(named=True),
    Stage.PLACES: _Demands(),
    Stage.RHYTHM: _Demands(pitch=False, rhythm=True),
    Stage.TIME: _Demands(rhythm=True),
    Stage.SIGHT: _Demands(rhythm=True, once_through=True),
}

IN_TURN = (Stage.LETTERS, Stage.PLACES, Stage.RHYTHM, Stage.TIME)
"""The stages as a player goes through them by choice, then the first again."""


class Pulse(Enum):
    """Who keeps the beat: the player, or the metronome."""

    FREE = "free"
    METRONOME = "metronome"
