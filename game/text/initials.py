"""Names as initials, for pages that lie about: of minors, or of whoever asks for it."""

import unicodedata
from collections import Counter
from collections.abc import Hashable, Mapping
from typing import TypeVar
from uuid import UUID

Key = TypeVar("Key", bound=Hashable)

_LEADING_VOWELS = "เแโใไເແໂໃໄ"
"""Of Thai and Lao: they stand before the letter that is spoken first, and a name is shortened to that letter (Unicode
15, 16.1 and 16.2)."""
_FEWEST_DIGITS = 2
_HYPHENS = str.maketrans(dict.fromkeys("‐‑–—", "-") | {"_": " "})


def initials(name: str) -> str:
    """The first letter of each word with a stop: "Anna Lena Berg" is "A. L. B.", "Jean-Luc Vidal" "J.-L. V.".

    Particles stay small ("van der Berg" in a name with capitals); where no word has a capital each gets one, if its
    script has any. Accents stay with their letter. What stands in brackets is left out. Empty for a name without a
    letter or a digit. Initials of initials are the same.
    """
    words = unicodedata.normalize("NFC", name).translate(_HYPHENS).split()
    firsts = [first for word in _outside_brackets(words) if (first := _of_word(word))]
    has_capitals = any(first != first.lower() for first in firsts)
    return " ".join(first if has_capitals else _large(first) for first in firsts)


def initials_of_all(names: Mapping[Key, str], ids: Mapping[Key, UUID]) -> dict[Key, str]:
    """The initials of many; those that are the same, or none, are told apart by the last digits of their `ids`, as many
    as are needed, which belong to nobody else whoever comes and goes: "A. B. (3f)".
    """
    short = {key: initials(name) for key, name in names.items()}
    count = Counter(short.values())
    return {
        key: f"{told} {_digits(ids[key], [ids[other] for other in short if short[other] == told])}".strip()
        if count[told] > 1 or not told
        else told
        for key, told in short.items()
    }


def _outside_brackets(words: list[str]) -> list[str]:
    outside, depth = [], 0
    for word in words:
        opened = word.count("(") + word.count("[")
        if not depth and not opened:
            outside.append(word)
        depth = max(0, depth + opened - word.count(")") - word.count("]"))
    return outside


def _of_word(word: str) -> str:
    parts = [first for part in word.split("-") if (first := _first_letter(part))]
    return "-".join(f"{first}." for first in parts)


def _first_letter(part: str) -> str:
    """The first letter or digit with the marks that belong to it; empty where there is none."""
    for index, letter in enumerate(part):
        if letter in _LEADING_VOWELS and index + 1 < len(part):
            continue
        if letter.isalnum():
            marks = index + 1
            while marks < len(part) and unicodedata.category(part[marks]).startswith("M"):
                marks += 1
            return part[index:marks]
    return ""


def _large(first: str) -> str:
    """With capitals as a title has them: scripts that have none in names (Georgian) stay as they are."""
    return "-".join(f"{one[0].title()}{one[1:]}" for one in first.split("-"))


def _digits(own: UUID, all_alike: list[UUID]) -> str:
    length = _FEWEST_DIGITS
    while length < len(own.hex) and sum(one.hex.endswith(own.hex[-length:]) for one in all_alike) > 1:
        length += 1
    return f"({own.hex[-length:]})"
