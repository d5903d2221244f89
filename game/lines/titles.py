"""What lines and siblings are called. In scores, logs and answers for programs they have one name, in English, whatever
language is spoken; `title_told` says it to people.
"""

import re
from collections.abc import Mapping

from game.lines.levels import LEVELS, Level
from game.message import Message, message, verbatim
from game.music.drill_title import drill_title
from game.music.keys import Key

_LEVEL_OF = {level.name.capitalize(): level.number for level in LEVELS}
_SIBLINGS: Mapping[str, str] = {
    "reordered": "bars in another order",
    "transposed": "transposed to",
    "fresh": "a fresh line of its kind",
}
_LINE = re.compile(rf"({'|'.join(_LEVEL_OF)}), in (\S+)")
_SINGLE_NOTES = re.compile(drill_title(r"(\S+)"))
_SIBLING = re.compile(rf"Sibling of (.*): (?:({'|'.join(_SIBLINGS.values())}))(?: (\S+))?", re.DOTALL)


def line_title(level: Level, key: Key) -> str:
    """The title of a fresh line."""
    return f"{level.name.capitalize()}, in {key.name}"


def single_notes_title(key: Key) -> str:
    """The title of a row of single notes."""
    return drill_title(key.name)


def sibling_title(title: str, how: str, key: Key | None = None) -> str:
    """The title of a sibling of what is called `title`. `how` is "reordered", "fresh", or "transposed" to a key."""
    made = f"Sibling of {title}: {_SIBLINGS[how]}"
    return made if key is None else f"{made} {key.name}"


def line_of_title(title: str) -> tuple[int, str] | None:
    """Level and key of a fresh line by its title; None for what is none."""
    found = _LINE.fullmatch(title)
    return (_LEVEL_OF[found[1]], found[2]) if found else None


def title_told(title: str) -> Message:
    """A title as people read it: that of a line or sibling by its key in the catalogue, any other as it is."""
    if found := _LINE.fullmatch(title):
        return message(f"lines.title_{_LEVEL_OF[found[1]]}", key=_with_signs(found[2]))
    if found := _SINGLE_NOTES.fullmatch(title):
        return message("lines.title_single_notes", key=_with_signs(found[1]))
    if found := _SIBLING.fullmatch(title):
        return _sibling_told(found[1], found[2], found[3])
    return verbatim(title)


def _with_signs(key: str) -> str:
    """The name of a key as people read it: its flats and sharps are signs ("B♭")."""
    return key[:1] + key[1:].replace("b", "♭").replace("#", "♯")


def _sibling_told(of: str, words: str, key: str | None) -> Message:
    how = next(how for how, known in _SIBLINGS.items() if known == words)
    values = {"title": title_told(of)} | ({"key": _with_signs(key)} if key else {})
    return message(f"lines.sibling_{how}", **values)
