"""What the words of tempo and feel at the head of a page ("Medium bossa", "Swing, in 2") ask of whoever accompanies.

The words are those of lead sheets (trade, from memory); only whole words count. Pure.
"""

import re

from game.music.accompanying import Manner
from game.music.score import Score

_LATIN = re.compile(
    r"\b(bossa(s|nova)?|samba|latin|rh?umba|bolero|beguine|mambo|cha[ -]?cha([ -]?cha)?|baiao|baião)\b", re.IGNORECASE
)
_IN_TWO = re.compile(r"\bin (2|two)\b|\b(2|two)[ -](beat|feel)\b", re.IGNORECASE)
_IN_FOUR = re.compile(r"\bin (4|four)\b|\b(4|four)[ -](beat|feel)\b|\bwalking\b", re.IGNORECASE)


def is_latin(words: str) -> bool:
    """Whether words ask for straight eighths over a bossa or one of its kin."""
    return _LATIN.search(words) is not None


def suited_manner(manner: Manner, score: Score) -> Manner:
    """The manner that was chosen; by the tune, that for which its page asks in words. Where it asks for swing as well
    ("Latin, then swing") no one manner is right for the whole of it, and none is named.
    """
    if manner is not Manner.BY_TUNE:
        return manner
    if is_latin(score.feel):
        return manner if score.swung else Manner.BOSSA
    two, four = (bool(asked.search(score.feel)) for asked in (_IN_TWO, _IN_FOUR))
    if two == four:
        return manner
    return Manner.TWO_BEAT if two else Manner.FOUR_BEAT
