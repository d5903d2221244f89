"""What is to be said, not yet in words: a key of the text catalogue and the values for its gaps. It imports nothing.

The core, the log and the errors speak in messages; `game.text` puts them into the words of a language.
"""

from dataclasses import dataclass
from datetime import date
from typing import TypeAlias, Union

Value: TypeAlias = Union[str, int, float, date, "Message", tuple["Value", ...]]
"""A tuple is a row, joined as the language does it: "C, D and E"."""

VERBATIM = "verbatim"


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence by its key. `values` fill its gaps, in the order in which they were given."""

    key: str
    values: tuple[tuple[str, Value], ...] = ()


def message(key: str, /, **values: object) -> Message:
    """The sentence called `key`, its gaps to be filled with `values`: numbers, text, days, other messages, rows of
    these. Whatever else is given (a path, a fraction, an error of ours) stands as the text or message it comes to.
    """
    return Message(key, tuple((name, _plain(value)) for name, value in values.items()))


def verbatim(text: str) -> Message:
    """Text that stands as it is: names, what a system says, sentences of an old log."""
    return Message(VERBATIM, (("text", text),))


def _plain(value: object) -> Value:
    if isinstance(value, str | int | float | date | Message):
        return value
    if isinstance(value, tuple | list):
        return tuple(_plain(item) for item in value)
    told = getattr(value, "message", None)
    return told if isinstance(told, Message) else str(value)


def to_plain(said: Message) -> dict[str, object]:
    """A message for JSON, in a log or between processes."""
    return {"key": said.key, "values": {name: _packed(value) for name, value in said.values}}


def from_plain(plain: object) -> Message:
    """A message out of JSON. Raises `ValueError` where it is none."""
    match plain:
        case {"key": str(key), "values": dict(values)}:
            return Message(key, tuple((str(name), _unpacked(value)) for name, value in values.items()))
    raise ValueError(f"no message: {plain!r:.80}")


def _packed(value: Value) -> object:
    if isinstance(value, Message):
        return to_plain(value)
    if isinstance(value, date):
        return {"day": value.isoformat()}
    return [_packed(item) for item in value] if isinstance(value, tuple) else value


def _unpacked(plain: object) -> Value:
    if isinstance(plain, dict):
        return date.fromisoformat(str(plain["day"])) if plain.keys() == {"day"} else from_plain(plain)
    if isinstance(plain, list):
        return tuple(_unpacked(item) for item in plain)
    if not isinstance(plain, str | int | float):
        raise ValueError(f"no value of a message: {plain!r:.80}")  # noqa: TRY004 - bad input, whatever its type
    return plain
