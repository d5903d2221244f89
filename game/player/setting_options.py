"""How a setting is declared: beside its type and bounds stands where it belongs and how it is changed.

A field of `Settings` is annotated with its type, msgspec's `Meta` for its bounds, and `Shown`. The settings screen, the
checks of the file and the ranges of keys come from there; its words stand in the catalogue under `settings.NAME`, its
explanation under `settings.NAME.why`.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import Enum
from functools import cached_property
from types import MappingProxyType
from typing import Any, get_type_hints

import msgspec

from game.message import Message, message, verbatim


class Group(Enum):
    """What a setting belongs to, in the order of the settings screen."""

    APPEARANCE = "appearance"
    PRACTICE = "practice"
    GUITAR = "guitar"


class ChangedOn(Enum):
    """Where a player changes a setting. One that stands in the file only is for whoever mends files by hand."""

    SETTINGS = "settings"
    MAP = "map"
    TODAY = "today"
    INSTRUMENTS = "instruments"
    FILE = "file"


class BelongsTo(Enum):
    """To whom a setting belongs. What is the player's goes with them to each of their computers; what is the computer's
    stays there, for it belongs to the instruments, the screen or the loudspeakers of that desk.
    """

    PLAYER = "player"
    COMPUTER = "computer"


@dataclass(frozen=True, slots=True)
class Shown:
    """Where a setting stands, whose it is, and how it is changed.

    `steps` are the values that the arrows go through, in their order, or what finds them; left empty they are those of
    an Enum or of a yes and no. `words` puts a value into words where neither the value as it is nor the sentence
    `settings.NAME.VALUE` will do.
    """

    group: Group
    belongs_to: BelongsTo
    on: ChangedOn = ChangedOn.SETTINGS
    steps: Sequence[Any] | Callable[[], Sequence[Any]] = ()
    words: Callable[[Any], Message] | None = None


@dataclass(frozen=True)
class Option:
    """A setting as it was declared. `lowest` and `highest` are in, and None where it is no bounded number."""

    name: str
    kind: Any
    shown: Shown
    lowest: float | None = None
    highest: float | None = None

    @property
    def group(self) -> Group:
        """What it belongs to."""
        return self.shown.group

    @property
    def name_words(self) -> Message:
        """What it is called."""
        return message(f"settings.{self.name}")

    @property
    def explanation(self) -> Message:
        """What it does, in a sentence."""
        return message(f"settings.{self.name}.why")

    @cached_property
    def steps(self) -> tuple[Any, ...]:
        """The values that the arrows go through."""
        if self.shown.steps:
            return tuple(self.shown.steps() if callable(self.shown.steps) else self.shown.steps)
        if self.kind is bool:
            return (False, True)
        return tuple(self.kind) if isinstance(self.kind, type) and issubclass(self.kind, Enum) else ()

    def stepped(self, now: Any, by: int) -> Any:
        """The value `by` steps on, round the end. From a number between two steps the nearest in that direction, from
        anything else that is no step the first.
        """
        if now in self.steps:
            return self.steps[(self.steps.index(now) + by) % len(self.steps)]
        if not isinstance(now, int | float):
            return self.steps[0]
        ahead = [step for step in self.steps if (step > now) == (by > 0)]
        return (min if by > 0 else max)(ahead) if ahead else self.steps[0 if by > 0 else -1]

    def within(self, number: int) -> int:
        """The nearest number that is allowed."""
        above = number if self.lowest is None else max(self.lowest, number)
        return int(above if self.highest is None else min(self.highest, above))

    def value_words(self, value: Any) -> Message:
        """A value in words."""
        if self.shown.words is not None:
            return self.shown.words(value)
        if isinstance(value, bool | Enum):
            return message(f"settings.{self.name}.{value.value if isinstance(value, Enum) else value}")
        return verbatim(str(value))


def options_of(declared: type[msgspec.Struct]) -> MappingProxyType[str, Option]:
    """The options of a struct by name, in the order in which they are declared. Raises `TypeError` for a field without
    `Shown`.
    """
    hints = get_type_hints(declared, include_extras=True)
    return MappingProxyType({name: _option(name, hints[name]) for name in declared.__struct_fields__})


def _option(name: str, hint: Any) -> Option:
    notes = getattr(hint, "__metadata__", ())
    shown = next((note for note in notes if isinstance(note, Shown)), None)
    if shown is None:
        raise TypeError(f"the setting {name} does not say where it is shown")
    bounds = next((note for note in notes if isinstance(note, msgspec.Meta)), msgspec.Meta())
    lowest, highest = (float(end) if end is not None else None for end in (bounds.ge, bounds.le))
    return Option(name, hint.__origin__, shown, lowest, highest)
