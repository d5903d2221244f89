"""Words that stand outside the brackets of the pseudo-language: they are written elsewhere than in the catalogue.

Titles, names of notes, people and files, what a system says, and what is typed are no words of ours.
"""

import re
from collections.abc import Iterable

_BRACKETED = re.compile(r"«[^«»]*»")
_NOTES = r"\b(do|re|mi|fa|sol|la|si|[A-H](is|es|s)?)(#|b|♯|♭)*(-?[0-9]\b|(?!\w))"
"""With their octave or without."""
_POSITIONS = r"\b[IVX]+\b"
_WORD = re.compile(r"[^\W\d_]{2,}")


def bare_words(text: str, known: Iterable[str] = (), patterns: Iterable[str] = ()) -> list[str]:
    """The words of a text outside its brackets, but for notes and positions, what is `known` and fits a pattern."""
    text = without_brackets(text)
    for name in sorted(known, key=len, reverse=True):
        text = text.replace(name, " ")
    for pattern in (*patterns, _NOTES, _POSITIONS):
        text = re.sub(pattern, " ", text)
    return _WORD.findall(text)


def without_brackets(text: str) -> str:
    """Brackets may stand in one another, and go on over several lines."""
    before = ""
    while text != before:
        before, text = text, _BRACKETED.sub(" ", text)
    return text
