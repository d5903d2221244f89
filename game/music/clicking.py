"""Which beats the metronome clicks on, and with what: needed before anything of sound is loaded."""

from enum import Enum


class Clicking(Enum):
    """Which beats are heard."""

    EVERY_BEAT = "every beat"
    TWO_AND_FOUR = "2 and 4"


class ClickSound(Enum):
    """What a click sounds like: a wooden bar, or, where a microphone listens, something that is like no note."""

    WOODEN = "wooden"
    BRIGHT = "bright"
