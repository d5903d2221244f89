"""The maps of a player, by name: kept as facts of their log, so that they are the same on each of their computers.

The one in use is that of the settings, and follows them: a home that is moved, another hand, a second region change the
map that is in use. Another position, other strings or another octave are another map: the one that was in use stays
what it was. A map that was practised, or has homes chosen by hand, is kept by itself before another takes its place;
any other map is forgotten as soon as it is left, and had nothing to lose.

Maps have names by themselves ("Position V"), until the player gives them one. Two that came to the same name, on two
computers, are told apart by a number.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from game.errors import MapError
from game.neck.neck_map import NeckMap
from game.player.map_facts import (
    LONGEST_MAP_NAME,
    MOST_MAPS,
    KeptMap,
    MapFacts,
    id_of_position,
    kept_content,
)
from game.player.map_names import NamedMap, name_by_itself, named_maps, told_apart
from game.player.map_settings import ground_of, is_changed_by_hand, map_in_use, map_part, over_with, settings_with
from game.player.player_facts import PlayerFacts
from game.player.setting_words import HomesOf, words_between
from game.player.settings import Settings
from game.text.catalogue import say
from game.text.clean_text import cleaned


@dataclass(slots=True)
class _Read:
    """What was made last of the facts, and of what it was made."""

    of: tuple[object, ...]
    maps: tuple[NamedMap, ...]


class PlayerMaps:
    """`facts` are those of the player's log, `settings` what holds now; `change` changes settings, for all of the
    player's computers, and may raise `OSError`; `practised` tells whether anything was ever read on a map.

    Not to be asked for before the first frame nor during a take: the log is read when it is first asked.
    """

    def __init__(
        self,
        facts: Callable[[], PlayerFacts],
        settings: Callable[[], Settings],
        change: Callable[[Settings], None],
        practised: Callable[[NeckMap], bool],
    ) -> None:
        self._facts, self._settings, self._change, self._practised = facts, settings, change, practised
        self._going_to: KeptMap | None = None
        self._read: _Read | None = None

    @property
    def all(self) -> tuple[NamedMap, ...]:
        """Every map that is kept, in the order in which they came, and the one in use, last where it is not kept."""
        facts, settings = self._said, self._settings()
        of = (facts, facts.count, map_part(settings), say("maps.of_position", position=""))
        if self._read is None or self._read.of != of:
            self._read = _Read(of, tuple(named_maps(facts.maps, map_in_use(facts, settings))))
        return self._read.maps

    @property
    def current(self) -> NamedMap:
        """The one in use: that of the settings."""
        in_use = map_in_use(self._said, self._settings())
        return next(one for one in self.all if one.id == in_use.id)

    def at(self, neck_map: NeckMap) -> NamedMap | None:
        """The kept map of a position, with its strings and octave, that was used last; None where none is kept."""
        used = self._said.used
        there = [one for one in self.all if one.kept and ground_of(one.neck_map) == ground_of(neck_map)]
        return max(there, key=lambda one: used.index(one.id) if one.id in used else -1, default=None)

    @property
    def loses_current(self) -> bool:
        """Whether the map in use would be gone with another one: it is kept nowhere, and no more maps are."""
        facts = self._said
        return map_in_use(facts, self._settings()).id not in facts.known and len(facts.known) >= MOST_MAPS

    def settings_of(self, map_id: str) -> Settings:
        """The settings with a kept map. Raises `MapError` where it is gone."""
        return over_with(self._settings(), self._found(map_id).settings)

    def name_of(self, neck_map: NeckMap) -> str:
        """The name that a map would have by itself, with a number where another map has it."""
        return told_apart(name_by_itself(neck_map), {one.name.casefold() for one in self.all})

    def keep(self, name: str, neck_map: NeckMap) -> NamedMap:
        """Keep a map under a name; under the one it has by itself where that is empty. Raises `MapError` where another
        map has this name, for a map that the settings cannot tell of, and for too many.
        """
        name = self._free_name(name)
        facts = self._said
        if len(facts.maps) >= MOST_MAPS:
            raise MapError("maps.too_many", most=MOST_MAPS)
        settings = settings_with(self._settings(), neck_map)
        in_use = map_in_use(facts, self._settings())
        if not self._is_kept(in_use.id) and map_part(settings) == map_part(in_use.settings):
            # It was in use without a name.
            self._say(kept_content(in_use.id, name, settings))
            return self._with_id(in_use.id)
        if not facts.maps:
            self._say(kept_content(in_use.id, "", in_use.settings))
        map_id = self._new_id(neck_map)
        self._say(kept_content(map_id, name, settings))
        return self._with_id(map_id)

    def use(self, map_id: str) -> None:
        """Go over to a map. The one before is kept if it was practised or changed. Raises `MapError` where the map is
        gone, and `OSError` where the settings cannot be written: they hold for this time.
        """
        if not self._is_kept(map_id) and self.current.id == map_id:
            return
        found = self._going_to = self._found(map_id)
        try:
            self._change(over_with(self._settings(), found.settings))
        finally:
            self._going_to = None
            self._use(map_id)

    def rename(self, map_id: str, name: str) -> NamedMap:
        """Give a map another name; an empty one is that which it has by itself. Raises `MapError` where another map has
        this name, or the map is gone.
        """
        name = self._free_name(name, but=map_id)
        self._keep_by_itself(map_id)
        self._say({"map": map_id, "name": name})
        return self._with_id(map_id)

    def withdraw(self, map_id: str) -> None:
        """Keep a map no longer. What was practised on it stays known. Raises `MapError` for the one in use."""
        if map_id == self.current.id:
            raise MapError("maps.in_use", name=self.current.name)
        if self._is_kept(map_id):
            self._say({"map": map_id, "withdrawn": True})

    def follow(self, before: Settings, after: Settings) -> HomesOf | None:
        """The settings change here and now: so does the map in use, or another one comes into use. Returns of which
        map the homes are; None where no map has changed.
        """
        if map_part(before) == map_part(after):
            return None
        facts = self._said
        was = map_in_use(facts, before)
        if self._going_to is not None:
            self._leave(was)
            return HomesOf(self._going_to.id, anew=True)
        if ground_of(was.settings.neck_map()) == ground_of(after.neck_map()):
            return self._changed(was, after)
        self._leave(was)
        return self._came_to(after)

    def follow_elsewhere(self, after: Settings) -> None:
        """The settings were changed on another computer, which may know nothing of maps: the map that was used last
        follows, where what holds now is no map that is kept and may be that one. No chosen home is given up so.
        """
        facts = self._said
        last = next((one for one in facts.maps if facts.used and one.id == facts.used[-1]), None)
        if last is None or any(map_part(one.settings) == map_part(after) for one in facts.maps):
            return
        same = ground_of(last.settings.neck_map()) == ground_of(after.neck_map())
        if same and last.settings.choices.keys() <= after.choices.keys():
            self._say_words(last, after)

    def _changed(self, was: KeptMap, after: Settings) -> HomesOf | None:
        """The map in use is another than before, at the same position."""
        if self._is_kept(was.id):
            self._say_words(was, after)
            self._use(was.id)
            return HomesOf(was.id)
        first = not self._said.count
        came_to = self._came_to(after, was)
        return HomesOf(came_to.map_id) if first else came_to

    def _came_to(self, after: Settings, was: KeptMap | None = None) -> HomesOf:
        """Another map is in use, that may be kept already; one with homes of its own is kept by itself. `was` is what
        it was before, when it was not kept.
        """
        facts = self._said
        same = next((one for one in facts.maps if map_part(one.settings) == map_part(after)), None)
        if same is not None:
            self._use(same.id)
            return HomesOf(same.id, anew=True)
        if not is_changed_by_hand(after):
            return HomesOf("", anew=True)
        if was is None:
            was = KeptMap(self._new_id(after.neck_map()), "", after)
        self._say(kept_content(was.id, "", was.settings))
        self._say_words(was, after)
        self._use(was.id)
        return HomesOf(was.id, anew=True)

    def _leave(self, was: KeptMap) -> None:
        """A map that another takes the place of is kept, where there is something to lose; one that was withdrawn stays
        so, unless it has been changed since.
        """
        facts, neck_map = self._said, was.settings.neck_map()
        if any(one.id == was.id for one in facts.maps):
            return
        new = was.id not in facts.known and self.at(neck_map) is None
        if is_changed_by_hand(was.settings) or (new and self._practised(neck_map)):
            self._say(kept_content(was.id, was.name, was.settings))
            self._use(was.id)

    def _keep_by_itself(self, map_id: str) -> None:
        """The map in use, which is not kept yet, is. Raises `MapError` for one that is gone."""
        if self._is_kept(map_id):
            return
        in_use = map_in_use(self._said, self._settings())
        if in_use.id != map_id:
            raise MapError("maps.gone")
        self._say(kept_content(map_id, "", in_use.settings))

    def _say_words(self, was: KeptMap, after: Settings) -> None:
        for word in words_between(was.settings, over_with(was.settings, after)):
            self._say({"map": was.id, "word": word})

    def _use(self, map_id: str) -> None:
        if self._said.used[-1:] != (map_id,):
            self._say({"map": map_id, "used": True})

    def _free_name(self, name: str, but: str = "") -> str:
        """A name as it is kept. Raises `MapError` where another map has it."""
        name = cleaned(name, LONGEST_MAP_NAME)
        if name and any(one.name.casefold() == name.casefold() for one in self.all if one.id != but and one.kept):
            raise MapError("maps.name_taken", name=name)
        return name

    def _new_id(self, neck_map: NeckMap) -> str:
        map_id = id_of_position(neck_map)
        return uuid4().hex if map_id in self._said.known else map_id

    def _found(self, map_id: str) -> KeptMap:
        found = next((one for one in self._said.maps if one.id == map_id), None)
        if found is None:
            raise MapError("maps.gone")
        return found

    def _is_kept(self, map_id: str) -> bool:
        return any(one.id == map_id for one in self._said.maps)

    def _with_id(self, map_id: str) -> NamedMap:
        found = next((one for one in self.all if one.id == map_id), None)
        if found is None:
            raise MapError("maps.gone")
        return found

    @property
    def _said(self) -> MapFacts:
        return self._facts().maps

    def _say(self, content: dict[str, Any]) -> None:
        self._facts().say_of_map(content)
