"""Whether the page asks for swung or straight eighths, in words or by MusicXML 4.0's `sound/swing`."""

import re
from xml.etree.ElementTree import Element

from game.music.feel import is_latin
from game.text.clean_text import cleaned

_SWING = re.compile(r"\b(swing|swung|shuffle)\b", re.IGNORECASE)
_STRAIGHT = re.compile(r"\b(straight|even)\s+(eighths|8ths|8s)\b|\bno swing\b", re.IGNORECASE)


def swing_asked(part: Element, feel: str = "") -> bool | None:
    """True for swung, False for straight, None when the page says nothing. The first sign or word counts; where there
    is none, what `feel` the head of the page asks for.
    """
    for direction in part.iterfind("measure/direction"):
        swing = direction.find("sound/swing")
        if swing is not None:
            return swing.find("straight") is None
        for words in direction.iterfind("direction-type/words"):
            asked = swing_in_words(cleaned(words.text))
            if asked is not None:
                return asked
    return swing_in_words(feel)


def swing_in_words(text: str) -> bool | None:
    """What words on the page ask for; None when they say nothing about it. A bossa is played straight."""
    if _STRAIGHT.search(text):
        return False
    if _SWING.search(text):
        return True
    return False if is_latin(text) else None
