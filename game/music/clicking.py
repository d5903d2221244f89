"""Which beats the metronome clicks on: a setting of the player's, needed before anything of sound is loaded."""

from enum import Enum


class Clicking(Enum):
    """Which beats are heard."""

    EVERY_BEAT = "every beat"
    TWO_AND_FOUR = "2 and 4"
