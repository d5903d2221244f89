"""The fields of a table out of a TOML file, one by one: a fault is noted with its place, and reading goes on."""

from collections.abc import Iterable, Mapping
from datetime import date, datetime
from typing import Any

from game.coach.stages import Stage
from game.text.clean_text import cleaned

_SHOWN = 40


class Fields:
    """One table. `where` is how a person finds it ("tune 2"), empty for the top; faults go into `faults`."""

    def __init__(self, table: Mapping[str, Any], where: str, faults: list[str], *, known: Iterable[str]) -> None:
        self._table, self._where, self._faults = table, where, faults
        known = tuple(known)
        for name in table:
            if name not in known:
                self.fault(f"{cleaned(name, _SHOWN)!r} is not known here: use {', '.join(known)}")

    def fault(self, sentence: str) -> None:
        """Note what is wrong in this table."""
        self._faults.append(f"{self._where}: {sentence}" if self._where else sentence)

    def has(self, name: str) -> bool:
        """Whether the field stands there."""
        return name in self._table

    def text(self, name: str, default: str = "") -> str:
        """Text on one line, cleaned."""
        value = self._table.get(name, default)
        if not isinstance(value, str):
            self.fault(f'{name} is text in quotation marks, such as {name} = "…", not {_shown(value)}')
            return default
        return cleaned(value)

    def number(self, name: str, lowest: int, highest: int) -> int | None:
        """A whole number within bounds that are both in; None where it is left out or wrong."""
        value = self._table.get(name)
        if value is None:
            return None
        # True and false are numbers to Python, but to nobody else.
        if type(value) is not int or not lowest <= value <= highest:
            self.fault(f"{name} is a whole number from {lowest} to {highest}, not {_shown(value)}")
            return None
        return value

    def day(self, name: str) -> date | None:
        """A date without a time of day."""
        value = self._table.get(name)
        if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
            return value
        self.fault(f"{name} is a date without quotation marks, such as 2026-12-24, not {_shown(value)}")
        return None

    def stages(self, name: str) -> tuple[Stage, ...]:
        """A list of stages, each once."""
        value = self._table.get(name, [])
        words = {stage.value: stage for stage in Stage}
        if not isinstance(value, list) or not all(isinstance(word, str) and word in words for word in value):
            self.fault(f"{name} is a list of {', '.join(words)}, not {_shown(value)}")
            return ()
        return tuple(dict.fromkeys(words[word] for word in value))

    def bars(self, name: str) -> tuple[int, int] | None:
        """First and last bar."""
        value = self._table.get(name)
        if value is None:
            return None
        whole = isinstance(value, list) and len(value) == 2 and all(type(bar) is int for bar in value)
        if not whole or not 0 <= value[0] <= value[1] <= 1000:
            self.fault(f"{name} is the first and the last bar, such as [1, 4], not {_shown(value)}")
            return None
        return value[0], value[1]


def _shown(value: object) -> str:
    """A value as it may stand in a sentence."""
    return cleaned(repr(value), _SHOWN)
