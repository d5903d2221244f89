"""Open strings as people write them: notes with or without octaves, in English or German, or MIDI numbers. Pure."""

import re
from collections.abc import Mapping, Sequence
from itertools import pairwise, product
from typing import Final

from game.music.pitch import SEMITONES_OF_STEP

LOWEST_OPEN: Final = 12
HIGHEST_OPEN: Final = 100

_SEMITONES: Final = {"#": 1, "♯": 1, "b": -1, "♭": -1}
_GERMAN: Final = {"is": 1, "es": -1, "s": -1}
_WORD = re.compile(r"([A-Ha-h])(#{1,2}|♯{1,2}|b{1,2}|♭{1,2}|is|es|s)?(-?[0-9])?")
# In one run of letters ("DADGAD", "EbAbDbGbBbEb", "dadf#ad") a small b behind a capital lowers it.
_CAPITALS = re.compile(r"[A-H](?:#|♯|b|♭)?[0-9]?")
_SMALL = re.compile(r"[a-h](?:#|♯|♭)?[0-9]?")
_BETWEEN = re.compile(r"[\s,;/–-]+")
_OCTAVE: Final = 12


def numbers_of(text: str, usual: Mapping[int, Sequence[int]]) -> list[tuple[str, int]] | str:
    """Each word of a tuning, the lowest string first, with its MIDI number; or, where one is none, that word.

    `usual` are the open strings of the usual tuning by their number, string 1 first. Where an H, an Es or a Fis
    stands among them they are German, and B is B flat (trade). How many strings can be, and how high they are, is not
    asked.
    """
    words = [part for word in _BETWEEN.split(text.strip()) if word for part in _parts(word)]
    is_german = any(word[0] in "Hh" or word[1:].rstrip("-0123456789") in _GERMAN for word in words)
    numbers: list[int | None] = []
    steps: list[int] = []
    for word in words:
        if word.isascii() and word.isdigit() and len(word) <= 3:
            numbers.append(int(word))
            steps.append(int(word))
            continue
        note = _note(word, is_german=is_german)
        if note is None:
            return word
        step, octave = note
        numbers.append(None if octave is None else _OCTAVE * (octave + 1) + step)
        steps.append(step)
    if not words:
        return ""
    near = usual.get(len(words), next(iter(usual.values())))
    return list(zip(words, _with_octaves(numbers, steps, tuple(reversed(near))), strict=True))


def _parts(word: str) -> list[str]:
    """The strings of a word: one, or as many as its letters where it is a run of them."""
    for letters in (_CAPITALS, _SMALL):
        parts = letters.findall(word)
        if len(parts) > 2 and "".join(parts) == word:
            return parts
    return [word]


def _note(word: str, *, is_german: bool) -> tuple[int, int | None] | None:
    """Semitones above C, which may be below it or an octave up, and the octave where one is named."""
    found = _WORD.fullmatch(word)
    if found is None:
        return None
    letter, signs, octave = found.groups()
    letter, signs = letter.upper(), signs or ""
    step = SEMITONES_OF_STEP["B" if letter == "H" else letter]
    if is_german and letter == "B":
        step -= 1
    if signs in _GERMAN:
        if signs == "s" and letter not in "AE":
            return None
        step += _GERMAN[signs]
    else:
        step += sum(_SEMITONES[sign] for sign in signs)
    return step, None if octave is None else int(octave)


def _with_octaves(numbers: Sequence[int | None], steps: Sequence[int], near: Sequence[int]) -> list[int]:
    """The strings with the octaves that were left open: from low to high where that can be, and near to the usual."""
    if None not in numbers or len(numbers) != len(near):
        return [step if number is None else number for number, step in zip(numbers, steps, strict=True)]
    options = [
        (number,) if number is not None else _octaves_near(step, usual)
        for number, step, usual in zip(numbers, steps, near, strict=True)
    ]

    return list(min(product(*options), key=lambda strings: _strangeness(tuple(strings), near)))


def _strangeness(strings: Sequence[int], near: Sequence[int]) -> tuple[int, int, int]:
    """How often the next string is lower, how far all are from the usual ones, and how high."""
    falls = sum(upper < lower for lower, upper in pairwise(strings))
    far = sum(abs(one - usual) for one, usual in zip(strings, near, strict=True))
    return falls, far, sum(strings)


def _octaves_near(step: int, usual: int) -> tuple[int, ...]:
    """The two notes of that name around the usual string."""
    below = usual - (usual - step) % _OCTAVE
    return (below, below + _OCTAVE) if below != usual else (below,)
