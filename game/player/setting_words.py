"""A player's settings as facts in their log: what a change says, and what all that was said comes to. Pure.

A fact holds the name of a setting and its value as the settings file has it. Of homes chosen on the map each stands
for itself, `{"name": "choices", "sounding": 59, "place": [4, 9]}`, null for one given up, so that two that were moved
on two computers both hold; `{"name": "choices", "value": {}}` gives up all. Homes belong to the tuning that they were
chosen in, and go when another is said, as in `Settings.changed`.

What this program does not know, or has other bounds for, is passed over.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

import msgspec

from game.neck.tuning import MAX_FRETS
from game.player.setting_options import BelongsTo
from game.player.setting_rules import within_rules
from game.player.settings import OPTIONS, Settings

SettingWord = Mapping[str, Any]
"""The content of a fact about a setting."""

_CHOICES = "choices"
PLAYERS = tuple(name for name, option in OPTIONS.items() if option.shown.belongs_to is BelongsTo.PLAYER)
"""The settings that are the player's, in the order in which they are declared: the tuning before its homes."""


def words_between(before: Settings, after: Settings) -> tuple[SettingWord, ...]:
    """What has to be said for the player's settings to become what they are `after`."""
    return tuple(_words(before, after))


def settings_said(words: Iterable[SettingWord], settings: Settings) -> Settings:
    """These settings with all that was said of the player's, the newest last. Where it does not fit together it is put
    right by the rules of the settings file.
    """
    said = _Said()
    for word in words:
        said.hear(word)
    return within_rules(said.over(settings))[0]


def players_part(settings: Settings) -> dict[str, Any]:
    """The player's settings as the file has them."""
    plain = msgspec.to_builtins(settings, str_keys=True)
    return {name: plain[name] for name in PLAYERS}


def _words(before: Settings, after: Settings) -> Iterator[SettingWord]:
    plain = players_part(after)
    for name in PLAYERS:
        if name == _CHOICES:
            yield from _homes(before, after)
        elif getattr(before, name) != getattr(after, name):
            yield {"name": name, "value": plain[name]}


def _homes(before: Settings, after: Settings) -> Iterator[SettingWord]:
    """Another position gives up all homes, those as well that were chosen on another computer meanwhile."""
    if not after.choices and (before.choices or before.position != after.position):
        yield {"name": _CHOICES, "value": {}}
        return
    for sounding in sorted(before.choices.keys() | after.choices.keys()):
        place = after.choices.get(sounding)
        if before.choices.get(sounding) != place:
            yield {"name": _CHOICES, "sounding": sounding, "place": None if place is None else list(place)}


class _Said:
    """What the words so far come to: values by name, and homes, None while nothing was said of these."""

    def __init__(self) -> None:
        self._values: dict[str, Any] = {}
        self._homes: dict[int, tuple[int, int]] | None = None

    def hear(self, word: SettingWord) -> None:
        """Another word, newer than all before."""
        name = word.get("name")
        if name == _CHOICES and "value" not in word:
            self._move_home(word.get("sounding"), word.get("place"))
        elif name in PLAYERS and "value" in word:
            self._settle(name, word["value"])

    def over(self, settings: Settings) -> Settings:
        """Settings with this in the place of what they have."""
        homes = {} if self._homes is None else {_CHOICES: self._homes}
        return msgspec.structs.replace(settings, **self._values, **homes)

    def _settle(self, name: str, plain: Any) -> None:
        alone = _understood({name: plain})
        if alone is None:
            return
        value = getattr(alone, name)
        if name == _CHOICES:
            self._homes = dict(value)
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
    """Settings with these fields, None where one of them cannot be: the tuning is known, and every number in bounds."""
    try:
        alone = msgspec.convert({"frets": MAX_FRETS} | fields, Settings, str_keys=True)
    except (msgspec.ValidationError, RecursionError):
        return None
    faults = within_rules(alone)[1]
    return None if any(fault.at[0] in fields and fault.at[0] != _CHOICES for fault in faults) else alone
