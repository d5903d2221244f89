"""The maps of a player as facts of their log, and what these come to. Pure.

A fact holds the id of a map and one thing that is said of it:

    {"map": ID, "name": "for small hands", "is": {"position": 5, "choices": {"59": [4, 9]}, ...}}
                                            the map is kept so; an empty name is the one it has by itself,
                                            and homes that are not spoken of stay what they were
    {"map": ID, "name": "for the stage"}    it has another name
    {"map": ID, "word": {...}}              it is changed: a word of `game.player.setting_words`, homes one by one
    {"map": ID, "used": true}               it is the one that is used from now on
    {"map": ID, "withdrawn": true}          it is kept no longer; whatever is said of it later brings it back

So two homes of one map that were moved on two computers both hold, and a map that was renamed on one and changed on
the other is both. What a map is made of is what the settings say of one (`MAP_FIELDS`), in the same words and within
the same bounds. What makes no sense, or is of a newer program, is passed over.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from hashlib import sha256
from typing import Any, Final

from game.neck.neck_map import NeckMap
from game.player.setting_words import SaidSettings, players_part
from game.player.settings import Settings
from game.text.clean_text import cleaned

LONGEST_MAP_NAME: Final = 40
"""Characters: longer ones are cut (ours; a small picture has room for so many)."""

MOST_MAPS: Final = 200
"""Ours: more than anybody learns. Of more, what is said is passed over."""

MAP_FIELDS: Final = ("tuning", "reading", "position", "choices", "stretches", "open_strings", "second", "frets")
"""The settings that a map is made of; the tuning before its homes."""

_ID = re.compile(r"[0-9a-f]{32}")


@dataclass(frozen=True, slots=True)
class KeptMap:
    """A map as it is kept: its id, the name the player gave it, empty for none, and the settings it is made of."""

    id: str
    name: str
    settings: Settings


@dataclass(slots=True)
class _Told:
    name: str = ""
    said: SaidSettings = field(default_factory=SaidSettings)
    kept: bool = False
    withdrawn: bool = False


class MapFacts:
    """All that the facts handed in so far come to. `count` is how many there were; `used` holds the ids of the maps
    that were used, the one used last at the end.
    """

    def __init__(self) -> None:
        self._told: dict[str, _Told] = {}
        self._used: dict[str, None] = {}
        self.count = 0

    def hear(self, content: Mapping[str, Any]) -> None:
        """Another fact, in the order of everything."""
        map_id = content.get("map")
        if not isinstance(map_id, str) or not _ID.fullmatch(map_id):
            return
        if map_id not in self._told and len(self._told) >= MOST_MAPS:
            return
        self.count += 1
        self._hear_of(map_id, self._told.setdefault(map_id, _Told()), content)

    @property
    def maps(self) -> tuple[KeptMap, ...]:
        """Those that are kept, in the order in which they were first spoken of."""
        return tuple(
            KeptMap(map_id, told.name, told.said.over(Settings()))
            for map_id, told in self._told.items()
            if told.kept and not told.withdrawn
        )

    @property
    def used(self) -> tuple[str, ...]:
        """The maps by when they were used last, the newest at the end."""
        return tuple(self._used)

    @property
    def known(self) -> frozenset[str]:
        """The ids of all maps that were ever spoken of."""
        return frozenset(self._told)

    def _hear_of(self, map_id: str, told: _Told, content: Mapping[str, Any]) -> None:
        name, made_of, word = content.get("name"), content.get("is"), content.get("word")
        if content.get("withdrawn") is True:
            told.withdrawn = True
            return
        if isinstance(name, str):
            told.name, told.withdrawn = cleaned(name, LONGEST_MAP_NAME), False
        if isinstance(made_of, dict):
            told.kept, told.withdrawn = True, False
            for one in MAP_FIELDS:
                if one in made_of:
                    told.said.hear({"name": one, "value": made_of[one]})
        if isinstance(word, dict) and word.get("name") in MAP_FIELDS:
            told.said.hear(word)
            told.withdrawn = False
        if content.get("used") is True:
            self._used.pop(map_id, None)
            self._used[map_id] = None
            told.withdrawn = False


def kept_content(map_id: str, name: str, settings: Settings) -> dict[str, Any]:
    """What JSON can say of a map that is kept as the settings have it. Where no home was chosen, none is spoken of: one
    that was chosen on another computer meanwhile holds.
    """
    plain = players_part(settings)
    told = [one for one in MAP_FIELDS if one != "choices" or settings.choices]
    return {"map": map_id, "name": name, "is": {one: plain[one] for one in told}}


def id_of_position(neck_map: NeckMap) -> str:
    """The id that the first map of a position, its strings and its octave has by itself: the same on each computer."""
    strings = " ".join(map(str, neck_map.tuning.open_strings))
    told = f"{neck_map.position}, {strings}, {neck_map.reading.value}"
    return sha256(told.encode("utf-8")).hexdigest()[:32]
