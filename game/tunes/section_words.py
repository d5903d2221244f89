"""Words over a bar that name a section of the tune ("Chorus", "2nd Verse", "Strophe 1", "Intro"). Pure.

Only what is a name and nothing else: "go to Interlude" is an instruction, "Chorus slowly" a tempo too. Names as they
stand on lead sheets in English, German, French, Spanish, Italian, Portuguese, Dutch and Swedish (trade).
"""

import re
import unicodedata

LONGEST_SECTION = 30
"""Letters of a section's name that are kept."""

_NAMES = (
    # English
    r"intro(?:duction)?|verses?|chorus(?:es)?|refrains?|bridge|middle (?:eight|8)|(?:pre|post)-?chorus"
    r"|interlude|instrumental|solos?|outro|tag|vamp|head|turnaround|trio|theme|hook|(?:section|part) [a-h1-9]"
    # German
    r"|strophen?|verse?|kehrreim|vorspiel|zwischenspiel|nachspiel|einleitung|uberleitung|schluss|thema|teil [a-h1-9]"
    # French, Spanish, Italian, Portuguese
    r"|couplets?|pont|partie [a-h1-9]|estrofas?|estribillo|puente|coro|versos?|estrofes?|refrao|ponte"
    r"|strof[ae]|ritornello|introduzione|introduccion|introducao|intermezzo|tema|parte [a-h1-9]"
    # Dutch, Swedish
    r"|refrein|brug|tussenspel|refrang|vers(?:er)?|mellanspel"
)
_ORDINAL = r"(?:\d{1,2}\s?(?:st|nd|rd|th|\.|er|ere|eme|a|o)?\s|first\s|second\s|third\s|last\s|final\s)?"
_COUNT = r"(?:\s?(?:\d{1,2}|[a-h]|[ivx]{1,4})\b\.?(?:\s?(?:[,&/+-]|and|und|et|y|e)\s?\d{1,2}\.?){0,4})?"
_SECTION = re.compile(rf"{_ORDINAL}(?:{_NAMES}){_COUNT}")
_LETTER = re.compile(r"[A-H]['\d]?")
_AROUND = " .:;,-()[]<>\"'"


def section_in(words: str, *, letters_too: bool = False) -> str:
    """The name of the section, as printed, that the words are; "" where they are anything else. `letters_too` takes a
    single capital letter ("A", "B2") for one.
    """
    if len(words) > LONGEST_SECTION + 10:
        return ""
    name = words.strip(_AROUND) if not words.endswith("'") else words.strip(_AROUND[:-1])
    if letters_too and _LETTER.fullmatch(name):
        return name
    return name[:LONGEST_SECTION] if _SECTION.fullmatch(_plain(name)) else ""


def _plain(words: str) -> str:
    """Small letters without accents."""
    apart = unicodedata.normalize("NFKD", words.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))
