"""The text catalogue: everything the program says on screen, in one file that a translator can read."""

import json
from functools import cache

from game.paths import shipped


@cache
def catalogue() -> dict[str, str]:
    """All sentences by their key."""
    text: dict[str, str] = json.loads(shipped("content", "text", "english.json").read_text(encoding="utf-8"))
    return text


def say(key: str, /, **parts: object) -> str:
    """The sentence called `key`, its gaps filled with `parts`."""
    return catalogue()[key].format(**parts)


def as_sentence(message: str) -> str:
    """An error message as a sentence on the page: a capital first, unless it begins with a file's name; a full stop."""
    first = message.split(maxsplit=1)[0] if message.strip() else ""
    shown = message if "." in first else message[:1].upper() + message[1:]
    return shown if shown.endswith((".", "?", "!")) else f"{shown}."


NUMBER_WORDS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"]


def counted(number: int) -> str:
    """A number as it is written in running text: words up to twelve."""
    return NUMBER_WORDS[number] if 0 <= number < len(NUMBER_WORDS) else str(number)


def counted_alike(*numbers: int) -> tuple[str, ...]:
    """Numbers that stand in one sentence: all in words, or all in figures where one is too large for words."""
    in_words = all(0 <= number < len(NUMBER_WORDS) for number in numbers)
    return tuple(NUMBER_WORDS[number] if in_words else str(number) for number in numbers)
