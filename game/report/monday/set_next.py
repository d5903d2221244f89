"""A line that sets what comes next, ready for a terminal: words of `homefret assign`. Pure."""

import re
import shlex
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

SLOWEST_BPM, FASTEST_BPM = 30, 300
"""What the metronome goes at."""

_PLAIN = re.compile(r"[\w./:,=+-]+", re.ASCII)
_MEANS_SOMETHING = frozenset('"$`\\!%')
"""What a shell takes for something else between double quotes: that of Unix, of Windows, or both."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSet:
    """What is to be set: a tune by its title, and of it `bars`, None for all; or fresh lines of a `level`, so many
    `a_day`. `tempo_bpm` None for the student's own.
    """

    title: str = ""
    bars: tuple[int, int] | None = None
    level: int | None = None
    a_day: int = 1
    stages: tuple[str, ...] = ()
    tempo_bpm: int | None = None


def assign_words(what: NextSet, *, called: str, due: date, out: str) -> list[str]:
    """The words behind `homefret` that set it: an assignment of this name until a day, in a file."""
    words = ["assign", *_word("--title", called)]
    if what.level is not None:
        words += _word("--lines", f"{what.level}:{what.a_day}")
    else:
        words += _word("--tune", what.title if what.bars is None else f"{what.title}:{what.bars[0]}-{what.bars[1]}")
    if what.stages:
        words += _word("--stage", ",".join(what.stages))
    if what.tempo_bpm is not None:
        words += _word("--tempo", str(min(max(what.tempo_bpm, SLOWEST_BPM), FASTEST_BPM)))
    return [*words, *_word("--due", due.isoformat()), *_word("--out", out)]


def quoted(words: Sequence[str]) -> tuple[str, ...]:
    """The line to be typed, word by word. In double quotes, which every shell knows, where nothing in them means
    something else.
    """
    return ("homefret", *map(_quoted, words))


def file_name(name: str) -> str:
    """A name for the file of a student's assignment, of plain small letters and digits."""
    plain = unicodedata.normalize("NFKD", name.casefold()).encode("ascii", "ignore").decode()
    return f"{'-'.join(re.findall('[a-z0-9]+', plain))[:40].strip('-') or 'student'}.toml"


def _word(option: str, value: str) -> list[str]:
    """An option with its value; what begins with a dash would be taken for another option."""
    return [f"{option}={value}"] if value.startswith("-") else [option, value]


def _quoted(word: str) -> str:
    if _PLAIN.fullmatch(word):
        return word
    return shlex.quote(word) if _MEANS_SOMETHING & set(word) or not word.isprintable() else f'"{word}"'
