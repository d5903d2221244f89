"""A player's settings as facts in their log: what a change says, and what all that was said comes to. Pure.

A fact holds the name of a setting and its value as the settings file has it. Of homes chosen on the map each stands
for itself, `{"name": "choices", "sounding": 59, "place": [4, 9]}`, null for one given up, so that two that were moved
on two computers both hold; `{"name": "choices", "value": {}}` gives up all. Homes belong to the tuning that they were
chosen in, and go when another is said, as in `Settings.changed`.

A player has several maps. A word about homes says of which one they are (`"map"`, empty for one that has no name): all
homes are given up for those of another map at once, and a home that was moved on one computer, while another one went
over to another map, is not taken for one of that map.

What this program does not know, or has other bounds for, is passed over.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import msgspec

from game.neck.tuning import MAX_FRETS
from game.player.setting_options import BelongsTo
from game.player.setting_rules import within_rules
from game.player.settings import OPTIONS, Settings

SettingWord = Mapping[str, Any]
"""The content of a fact about a setting."""

_CHOICES, _MAP = "choices", "map"
PLAYERS = tuple(name for name, option in OPTIONS.items() if option.shown.belongs_to is BelongsTo.PLAYER)
"""The settings that are the player's, in the order in which they are declared: the tuning before its homes."""


@dataclass(frozen=True, slots=True)
class HomesOf:
    """Of which map the homes of a change are, by its id, empty for one without a name; `anew` where it is another map
    than before.
    """

    map_id: str
    anew: bool = False


def words_between(before: Settings, after: Settings, homes_of: HomesOf | None = None) -> tuple[SettingWord, ...]:
    """What has to be said for the player's settings to become what they are `after`."""
    return tuple(_words(before, after, homes_of))


def settings_said(words: Iterable[SettingWord], settings: Settings) -> Settings:
    """These settings with all that was said of the player's, the newest last. Where it does not fit together it is put
    right by the rules of the settings file.
    """
    said = SaidSettings()
    for word in words:
        said.hear(word)
    return said.over(settings)


def players_part(settings: Settings) -> dict[str, Any]:
    """The player's settings as the file has them."""
    plain = msgspec.to_builtins(settings, str_keys=True)
    return {name: plain[name] for name in PLAYERS}


def _words(before: Settings, after: Settings, homes_of: HomesOf | None) -> Iterator[SettingWord]:
    plain = players_part(after)
    for name in PLAYERS:
        if name == _CHOICES:
            yield from _homes(before, after, homes_of)
        elif getattr(before, name) != getattr(after, name):
            yield {"name": name, "value": plain[name]}


def _homes(before: Settings, after: Settings, homes_of: HomesOf | None) -> Iterator[SettingWord]:
    """Another position gives up all homes, those as well that were chosen on another computer meanwhile."""
    of_map = {} if homes_of is None else {_MAP: homes_of.map_id}
    if homes_of is not None and homes_of.anew:
        yield {"name": _CHOICES, "value": players_part(after)[_CHOICES], **of_map}
        return
    if not after.choices and (before.choices or before.position != after.position):
        yield {"name": _CHOICES, "value": {}, **of_map}
        return
    for sounding in sorted(before.choices.keys() | after.choices.keys()):
        place = after.choices.get(sounding)
        if before.choices.get(sounding) != place:
            yield {"name": _CHOICES, "sounding": sounding, "place": None if place is None else list(place), **of_map}


class SaidSettings:
    """What the words so far come to: values by name, and homes, None while nothing was said of these."""

    def __init__(self) -> None:
        self._values: dict[str, Any] = {}
        self._homes: dict[int, tuple[int, int]] | None = None
        # Of which map the homes are, None where nobody said.
        self._map: str | None = None

    def hear(self, word: SettingWord) -> None:
        """Another word, newer than all before."""
        name, of_map = word.get("name"), word.get(_MAP)
        if name == _CHOICES and "value" not in word:
            if self._map is None or of_map in (None, self._map):
                self._move_home(word.get("sounding"), word.get("place"))
        elif name in PLAYERS and "value" in word:
            self._settle(name, word["value"], of_map if isinstance(of_map, str) else None)

    def over(self, settings: Settings) -> Settings:
        """Settings with this in the place of what they have, put right by the rules of the settings file."""
        homes = {} if self._homes is None else {_CHOICES: self._homes}
        return within_rules(msgspec.structs.replace(settings, **self._values, **homes))[0]

    def _settle(self, name: str, plain: Any, of_map: str | None) -> None:
        alone = _understood({name: plain})
        if alone is None:
            return
        value = getattr(alone, name)
        if name == _CHOICES:
            self._homes, self._map = dict(value), of_map
            return
        if name == "tuning" and value != self._values.get(name, Settings().tuning):
            self._homes = {}
        self._values[name] = value

    def _move_home(self, sounding: Any, place: Any) -> None:
        moved = _understood({_CHOICES: {str(sounding): [1, 0] if place is None else place}})
        if type(sounding) is not int or moved is None:
            return
        homes = {} if self._homes is None else self._homes
        self._homes = {at: home for at, home in homes.items() if at != sounding}
        if place is not None:
            self._homes |= moved.choices


def _understood(fields: dict[str, Any]) -> Settings | None:
    """Settings with these fields, None where one of them cannot be: the tuning is known, and every number in bounds. A
    second region may be joined to any but its own.
    """
    second = fields.get("second")
    beside = {"position": 2 if isinstance(second, list | tuple) and list(second[:1]) == [1] else 1}
    try:
        alone = msgspec.convert({"frets": MAX_FRETS} | beside | fields, Settings, str_keys=True)
    except (msgspec.ValidationError, RecursionError):
        return None
    faults = within_rules(alone)[1]
    return None if any(fault.at[0] in fields and fault.at[0] != _CHOICES for fault in faults) else alone
