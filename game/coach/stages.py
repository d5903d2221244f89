"""What is asked of the player, and by which clock. Each stage adds a single demand."""

from enum import Enum


class Stage(Enum):
    """What is asked."""

    LETTERS = "letters"
    PLACES = "places"
    RHYTHM = "rhythm"
    TIME = "time"
    SIGHT = "sight"


class Pulse(Enum):
    """Who keeps the beat: the player, or the metronome."""

    FREE = "free"
    METRONOME = "metronome"
