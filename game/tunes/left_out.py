"""What is left out of a tune or guessed while it is read, and in which bars: in the end one sentence for each kind."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from game.message import Message, Value, message

_MOST_NAMED = 6
_ROW = "bars"
"""The value under which a message holds a row of bars: their printed numbers, or whole numbers counted from 1."""


class LeftOut:
    """Bars in which something was left out or changed, by the key of the sentence that says what."""

    def __init__(self) -> None:
        self._bars: dict[str, dict[str | int, None]] = {}

    def add(self, key: str, bar: str | int) -> None:
        """It happened in this bar, once or again."""
        self._bars.setdefault(key, {})[bar] = None

    def warnings(self, named: Callable[[Sequence[str | int]], Message]) -> tuple[Message, ...]:
        """A sentence for each kind, in the order in which they first came; `named` names the bars."""
        return tuple(message(key, bars=named(tuple(bars))) for key, bars in self._bars.items())


def bars_listed(bars: Sequence[str | int]) -> Message:
    """The bars by their numbers, the first six of them: "bar 3", "bars 3, 5", "bars 1, 2, 3, 4, 5, 6 and 9 more"."""
    return _named("bars.listed", bars)


def bars_counted(bars: Sequence[str | int]) -> Message:
    """How many bars, and their numbers: "1 bar: 3", "9 bars: 1, 2, 3, 4, 5, 6 and 3 more"."""
    return _named("bars.counted", bars)


def _named(key: str, bars: Sequence[str | int]) -> Message:
    first, more = tuple(bars[:_MOST_NAMED]), len(bars) - _MOST_NAMED
    if more > 0:
        return message(f"{key}_and_more", bars=first, count=len(bars), more=more)
    return message(key, bars=first, count=len(bars))


def with_printed_numbers(warnings: Sequence[Message], printed: Callable[[int], str]) -> tuple[Message, ...]:
    """The warnings with the numbers that are printed, where they name bars counted from 1."""
    return tuple(_printed(warning, printed) for warning in warnings)


def _printed(said: Message, printed: Callable[[int], str]) -> Message:
    def told(name: str, value: Value) -> Value:
        if isinstance(value, Message):
            return _printed(value, printed)
        if name == _ROW and isinstance(value, tuple):
            return tuple(printed(bar) if isinstance(bar, int) else bar for bar in value)
        return value

    return replace(said, values=tuple((name, told(name, value)) for name, value in said.values))
