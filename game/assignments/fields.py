"""The fields of a table out of a TOML file, one by one: a fault is noted with its place, and reading goes on."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime, time
from difflib import get_close_matches
from typing import Any

from game.coach.stages import Stage
from game.message import Message, message
from game.text.clean_text import LONGEST, cleaned

_SHOWN = 40
_ISO_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


class Fields:
    """One table. `where` is how a person finds it ("tune 2"), None for the top; faults go into `faults`."""

    def __init__(
        self, table: Mapping[str, Any], where: Message | None, faults: list[Message], *, known: Iterable[str]
    ) -> None:
        self._table, self._where, self._faults = table, where, faults
        known = tuple(known)
        for name in table:
            if name not in known:
                self.add(unknown_field(name, known))

    def fault(self, key: str, **values: object) -> None:
        """Note what is wrong in this table: the sentence of the catalogue called `key`."""
        self.add(message(key, **values))

    def add(self, fault: Message) -> None:
        """Note what is wrong in this table."""
        self._faults.append(message("assignment.fault_at", where=self._where, fault=fault) if self._where else fault)

    def has(self, name: str) -> bool:
        """Whether the field stands there."""
        return name in self._table

    def text(self, name: str, default: str = "", *, longest: int = LONGEST) -> str:
        """Text on one line, cleaned, of at most so many letters."""
        value = self._table.get(name, default)
        if not isinstance(value, str):
            self.fault("assignment.no_text", field=name, given=_shown(value))
            return default
        return cleaned(value, longest)

    def number(self, name: str, lowest: int, highest: int) -> int | None:
        """A whole number within bounds that are both in; None where it is left out or wrong."""
        value = self._table.get(name)
        if value is None:
            return None
        # True and false are numbers to Python, but to nobody else.
        if type(value) is not int or not lowest <= value <= highest:
            self.fault("assignment.no_number", field=name, lowest=lowest, highest=highest, given=_shown(value))
            return None
        return value

    def yes(self, name: str) -> bool:
        """True or false, false where it is left out or neither."""
        value = self._table.get(name, False)
        if not isinstance(value, bool):
            self.fault("map_file.no_yes", field=name, given=_shown(value))
            return False
        return value

    def day(self, name: str) -> date | None:
        """A date without a time of day."""
        value = self._table.get(name)
        if value is None or (isinstance(value, date) and not isinstance(value, datetime)):
            return value
        if isinstance(value, str) and _ISO_DAY.fullmatch(value) and not _is_day(value):
            self.fault("assignment.no_such_day", field=name, given=value)
        else:
            self.fault("assignment.no_day", field=name, given=_shown(value))
        return None

    def stages(self, name: str) -> tuple[Stage, ...]:
        """A list of stages, each once."""
        value = self._table.get(name, [])
        words = {stage.value: stage for stage in Stage}
        if not isinstance(value, list) or not all(isinstance(word, str) and word in words for word in value):
            self.fault("assignment.no_list", field=name, words=tuple(words), given=_shown(value))
            return ()
        return tuple(dict.fromkeys(words[word] for word in value))

    def bars(self, name: str) -> tuple[int, int] | None:
        """First and last bar."""
        value = self._table.get(name)
        if value is None:
            return None
        whole = isinstance(value, list) and len(value) == 2 and all(type(bar) is int for bar in value)
        if not whole or not 0 <= value[0] <= value[1] <= 1000:
            self.fault("assignment.no_bars", field=name, given=_shown(value))
            return None
        return value[0], value[1]


def unknown_field(name: str, known: Sequence[str]) -> Message:
    """A word that no field has: with the one that is meant, where it is like one of those that are known."""
    shown, meant = cleaned(name, _SHOWN), get_close_matches(name[:_SHOWN].casefold(), known, n=1)
    if meant:
        return message("assignment.misspelled_field", field=shown, meant=meant[0])
    return message("assignment.unknown_field", field=shown, known=tuple(known))


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _shown(value: object) -> str:
    """A value as it may stand in a sentence: what TOML writes otherwise than Python, as TOML does."""
    if isinstance(value, bool):
        return "true" if value else "false"
    told = value.isoformat() if isinstance(value, date | time) else repr(value)
    return cleaned(told, _SHOWN)
