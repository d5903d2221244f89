"""The words of tempo and feel at the head of a page: "Medium swing", "Bossa nova", "Slowly, with feeling".

They stand over the first bars, or are credited at the head of the sheet, or named as the genre of the file. What a
player can read of them is kept as it is printed. The vocabulary is that of lead sheets (trade, from memory, and the
sixty or so that we looked through).
"""

import re
from collections.abc import Iterator
from xml.etree.ElementTree import Element

from game.text.clean_text import cleaned

LONGEST_FEEL = 60
"""Letters that are kept."""

_FIRST_BARS = 2
"""A pickup and the bar after it: words further on are of a section."""

_WORD = (
    r"(?:very|rather|not too|in|a|with|and|or|tempo|feel|beat|time|"
    r"slow(?:ly)?|med(?:ium)?|mod(?:erate(?:ly)?|erato)?|fast|quick(?:step)?|up|bright(?:ly)?|lively|easy|gently|freely|"
    r"relaxed|rubato|lento|largo|adagio|andante|andantino|allegretto|allegro|vivace|presto|"
    r"swing|swung|shuffle|straight|even|eighths|8ths|8s|bossa|nova|samba|latin|rh?umba|bolero|beguine|mambo|cha|"
    r"ballad|waltz|march|blues|bebop|bop|jazz|funk|rock|gospel|tango|fox[ -]?trot|two|four|2|3|4)"
)
_TELLING = re.compile(
    r"\b(?:slow(?:ly)?|med(?:ium)?|moderate(?:ly)?|moderato|fast|quickstep|bright(?:ly)?|lively|gently|freely|relaxed|"
    r"rubato|lento|largo|adagio|andante|andantino|allegretto|allegro|vivace|presto|tempo|swing|swung|shuffle|bossa|"
    r"samba|latin|rh?umba|bolero|beguine|mambo|ballad|waltz|march|blues|bop|bebop|funk|tango|fox[ -]?trot|"
    r"(?:straight|even) (?:eighths|8ths|8s))\b",
    re.IGNORECASE,
)
_NOTHING_ELSE = re.compile(rf"{_WORD}(?:[ ,./()-]+{_WORD})*\.?", re.IGNORECASE)
_GENRES = ("genre", "style", "rhythm", "feel")
_QUOTED = re.compile(r'"([^"]*)"')


def feel_of_part(root: Element, part: Element, *, title: str) -> str:
    """The words of a part of a MusicXML score, else those credited at its head, else its genre; empty for none."""
    found = (*_over_bars(part), *_credited(root, title), *_genre(root))
    return next(filter(None, found), "")[:LONGEST_FEEL]


def feel_in_fields(tempo: str, rhythm: str) -> str:
    """The same of an ABC tune, by its fields `Q:` and `R:` (ABC 2.1)."""
    said = (*_QUOTED.findall(tempo), rhythm)
    return ", ".join(filter(None, map(cleaned, said)))[:LONGEST_FEEL]


def _over_bars(part: Element) -> Iterator[str]:
    """Words over the first bars that tell tempo or feel, or stand beside a tempo in figures."""
    for measure in part.findall("measure")[:_FIRST_BARS]:
        for direction in measure.iterfind("direction"):
            words = cleaned(" ".join(piece.text or "" for piece in direction.iterfind("direction-type/words")))
            sound = direction.find("sound")
            in_figures = direction.find("direction-type/metronome") is not None
            if in_figures or (sound is not None and "tempo" in sound.attrib) or _TELLING.search(words):
                yield words


def _credited(root: Element, title: str) -> Iterator[str]:
    """Credits on page one that are of nothing else: a title may hold such words, too."""
    for credit in root.iterfind("credit/credit-words"):
        words = cleaned(credit.text)
        if words.casefold() != title.casefold() and _TELLING.search(words) and _NOTHING_ELSE.fullmatch(words):
            yield words


def _genre(root: Element) -> Iterator[str]:
    for field in root.iterfind("identification/miscellaneous/miscellaneous-field"):
        if cleaned(field.get("name")).casefold() in _GENRES:
            yield cleaned(field.text)
