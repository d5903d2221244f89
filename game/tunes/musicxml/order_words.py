"""Words on a page that steer the order of play ("D.S. al Coda", "Fine", "3x"), whatever file they stand in. Pure."""

import re
from dataclasses import replace

from game.music.score import NO_MARKS, BarMarks, Jump, Until

_DA_CAPO = re.compile(r"\bd\s*\.\s*c\b|\bd\.?c\.|\bda\s+capo\b", re.IGNORECASE)
_DAL_SEGNO = re.compile(r"\bd\s*\.\s*s\b|\bd\.?s\.|\b(dal|del|da)\s+segno\b", re.IGNORECASE)
# The signs themselves, as Unicode and as Standard Music Font Layout have them, may stand in words.
_SIGN_OF_CODA, _SIGN_OF_SEGNO = "\U0001d10c\ue048", "\U0001d10b\ue047"
_TO_CODA = re.compile(rf"\bto\s+(the\s+)?(coda\b|[{_SIGN_OF_CODA}])|\bda\s+coda\b", re.IGNORECASE)
_CODA = re.compile(rf"\W*(coda\W*|[{_SIGN_OF_CODA}]\W*(coda\W*)?)", re.IGNORECASE)
_FINE = re.compile(r"\W*(il\s+)?fine\W*", re.IGNORECASE)
_SEGNO = re.compile(rf"\W*(segno|[{_SIGN_OF_SEGNO}])\W*", re.IGNORECASE)
_AL_FINE = re.compile(r"(\b|\.)al\s*fine\b", re.IGNORECASE)
_AL_CODA = re.compile(rf"(\b|al)coda\b|[{_SIGN_OF_CODA}]", re.IGNORECASE)
# What our own words for a jump say as well, spelled as it may be: "D.C.alfine", "DS al Coda".
_USUAL_JUMP = re.compile(rf"\W*d\s*\.?\s*[cs]\s*\.?\s*al\s*(fine|coda|[{_SIGN_OF_CODA}])\W*", re.IGNORECASE)
_LONGEST_JUMP = 40
# "4x", "x3", "play 3 times", "3 repeats": how often in all, beside a sign that does not say it itself.
_TIMES = re.compile(r"\b(\d{1,2})\s*(?:x|×|times|repeats)(?!\w)|(?<!\w)[x×]\s*(\d{1,2})\b", re.IGNORECASE)


def with_instruction(marks: BarMarks, words: str) -> BarMarks:
    """The marks with what these words on the page ask for; other words change nothing."""
    jump = None
    if _DAL_SEGNO.search(words):
        jump = Jump.DAL_SEGNO
    elif _DA_CAPO.search(words):
        jump = Jump.DA_CAPO
    if jump:
        until = Until.FINE if _AL_FINE.search(words) else Until.CODA if _AL_CODA.search(words) else None
        usual = _USUAL_JUMP.fullmatch(words) is not None
        return replace(marks, jump=jump, until=until, jump_words="" if usual else words[:_LONGEST_JUMP])
    if _TO_CODA.search(words):
        return replace(marks, to_coda=True)
    if _CODA.fullmatch(words):
        return replace(marks, coda=True)
    if _SEGNO.fullmatch(words):
        return replace(marks, segno=True)
    return replace(marks, fine=True) if _FINE.fullmatch(words) else marks


def is_instruction(words: str) -> bool:
    """Whether these words ask for anything in the order of play."""
    return with_instruction(NO_MARKS, words) != NO_MARKS


def names_coda(words: str) -> bool:
    """Whether the words are the name of the coda and nothing else."""
    return _CODA.fullmatch(words) is not None


def times_in_words(words: str) -> int | None:
    """How often in all the words say that something is played, None where they say nothing of the kind."""
    numbers = (int(before or behind) for before, behind in _TIMES.findall(words))
    return next((number for number in numbers if number > 1), None)
