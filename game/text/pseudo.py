"""English in brackets: «what is said so comes from the catalogue». A bare word on screen or on paper is seen.

Only the words of a sentence itself are bracketed, not what its gaps are filled with: «Take »3« of »«3 March 2026». So a
word that was written somewhere else is bare in a gap as well.
"""

import re
from datetime import date
from functools import cache
from string import Formatter

from game.text.catalogue import SOURCE_LANGUAGE, Catalogue

OPENING, CLOSING = "«", "»"
"""The shipped fonts have them, and no sentence of ours uses them otherwise."""

_ARGPARSE_GAP = re.compile(r"(%(?:\(\w+\))?[sr])")


class BracketedCatalogue(Catalogue):
    """The English sentences, their words in brackets; names, titles and old entries of a log stand as they are."""

    def __init__(self) -> None:
        super().__init__(SOURCE_LANGUAGE)

    def in_words(self, number: int) -> str:
        """A number in brackets where it is a word."""
        return _bracketed(super().in_words(number))

    def on_day(self, day: date, form: str = "long") -> str:
        """A day in brackets: its month is a word."""
        return _bracketed(super().on_day(day, form))

    def _sentence(self, key: str, count: object = None) -> str:
        return _with_words_bracketed(super()._sentence(key, count))


@cache
def _with_words_bracketed(sentence: str) -> str:
    parts = []
    for words, name, spec, conversion in Formatter().parse(sentence):
        parts += [_bracketed(part).replace("{", "{{").replace("}", "}}") for part in _ARGPARSE_GAP.split(words)]
        if name is not None:
            shown = (f"!{conversion}" if conversion else "") + (f":{_with_joint_bracketed(spec)}" if spec else "")
            parts.append("{" + name + shown + "}")
    return "".join(parts)


def _with_joint_bracketed(spec: str) -> str:
    """What joins a row may be a word: "{items: or }"."""
    return spec.replace(spec.strip(), _bracketed(spec.strip())) if " " in spec and spec.strip() else spec


def _bracketed(text: str) -> str:
    """Text in brackets where it has a word."""
    words = not _ARGPARSE_GAP.fullmatch(text) and any(sign.isalpha() for sign in text)
    return f"{OPENING}{text}{CLOSING}" if words else text
