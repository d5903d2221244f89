"""When bass and chords are heard, and in which manner: settings of the player's, needed before anything of sound is
loaded.
"""

from enum import Enum


class Accompanied(Enum):
    """What is accompanied by bass and chords. Never what is met for the first time or read for its pitches alone."""

    NOTHING = "nothing"
    WHOLE = "whole"
    UPPER_RUNGS = "upper rungs"
    """Takes above the second rung of the ladder as well."""


class Manner(Enum):
    """How bass and chords go in metres of two and four beats; other metres have a way of their own."""

    BY_TUNE = "by the tune"
    TWO_BEAT = "two-beat"
    FOUR_BEAT = "four-beat"
    BOSSA = "bossa"
