"""The player's maps as practice sees them: which are fluent, what was said of that, and which may come next.

A map that is kept (`player_maps`) is one of the player's; the one of the settings is their own now. All of it is made
anew only after more was read or said.
"""

from collections.abc import Callable
from dataclasses import dataclass

from game.coach.notes.fluent_map import MapFluency, days_of_map, is_same_to_read, map_fluency
from game.coach.notes.map_identity import map_key
from game.coach.notes.mastery import Mastery
from game.coach.notes.weights import items_by_pitch
from game.coach.numbers import NUMBERS
from game.coach.plan.mixed_maps import CostOfMixing, cost_of_mixing
from game.coach.plan.next_map import NextMapSaid, is_proposed
from game.coach.plan.plan_steps import MapInPlan
from game.neck.neck_map import NeckMap
from game.player.map_names import name_by_itself
from game.player.player_facts import PlayerFacts
from game.player.player_notes import PlayerNotes
from game.player.settings import Settings


@dataclass(frozen=True, slots=True)
class _Looked:
    mastery: Mastery
    of: tuple[object, ...]
    own: MapInPlan
    fluency: MapFluency
    others: tuple[tuple[MapInPlan, MapFluency], ...]


class MapsInPractice:
    """One player's. Not to be asked for during a take."""

    def __init__(self, notes: PlayerNotes, settings: Callable[[], Settings], facts: Callable[[], PlayerFacts]) -> None:
        self._notes, self._settings, self._facts = notes, settings, facts
        self._known: _Looked | None = None

    @property
    def own(self) -> MapInPlan:
        """The map of the settings."""
        return self._looked.own

    @property
    def fluency(self) -> MapFluency:
        """How far the own map is."""
        return self._looked.fluency

    @property
    def others(self) -> tuple[tuple[MapInPlan, MapFluency], ...]:
        """The other maps that are kept, and how far each is."""
        return self._looked.others

    @property
    def fluent_others(self) -> tuple[MapInPlan, ...]:
        """Those of them that are fluent."""
        return tuple(one for one, fluency in self.others if fluency.fluent)

    @property
    def begins_another(self) -> bool:
        """Whether the own map is another one after a fluent one, and not nearly all of its homes were met."""
        if not self.fluent_others or self.fluency.fluent:
            return False
        neck_map = self.own.neck_map
        met = items_by_pitch(self._notes.mastery.items, neck_map)
        return len(met) < NUMBERS.near_all_met * len(neck_map.homes)

    @property
    def is_next_proposed(self) -> bool:
        """Whether the own map is fluent, and a next one is to be proposed today."""
        return self.fluency.fluent and is_proposed(self._said, self._notes.now().date())

    def say_fluent(self) -> None:
        """Keep that the own map is fluent, where it is, and was not said to be yet."""
        if self.fluency.fluent and not self.fluency.told:
            self._facts().say_fluent(map_key(self.own.neck_map))

    @property
    def cost_of_mixing(self) -> CostOfMixing | None:
        """What it costs to read several maps on one day; None where too little tells."""
        days = self._notes.mastery.map_days
        maps = (self.own, *self.fluent_others)
        return cost_of_mixing([days_of_map(days, map_key(one.neck_map)) for one in maps])

    @property
    def _said(self) -> NextMapSaid | None:
        own = map_key(self.own.neck_map)
        said = [one for text, one in self._facts().desk.next_maps.items() if is_same_to_read(own, text)]
        return max(said, key=lambda one: one.day, default=None)

    @property
    def _looked(self) -> _Looked:
        mastery, neck_map, facts = self._notes.mastery, self._settings().neck_map(), self._facts()
        of = (neck_map, facts.maps.count, len(facts.desk.fluent_maps), name_by_itself(neck_map))
        if self._known is None or self._known.mastery is not mastery or self._known.of != of:
            self._known = self._look(mastery, neck_map, of)
        return self._known

    def _look(self, mastery: Mastery, neck_map: NeckMap, of: tuple[object, ...]) -> _Looked:
        facts = self._facts()
        told, own = tuple(facts.desk.fluent_maps), map_key(neck_map)

        def fluency(one: NeckMap) -> MapFluency:
            text = map_key(one)
            return map_fluency(mastery, one, told=any(is_same_to_read(text, other) for other in told))

        kept_maps = [(kept.name, kept.settings.neck_map()) for kept in facts.maps.maps]
        every = [neck_map, *(one for _, one in kept_maps)]
        name, others = name_by_itself(neck_map, every), dict[str, MapInPlan]()
        for given, kept_map in kept_maps:
            text, called = map_key(kept_map), given or name_by_itself(kept_map, every)
            if text == own:
                name = called
            elif not is_same_to_read(own, text) and not any(is_same_to_read(text, other) for other in others):
                others[text] = MapInPlan(kept_map, called)
        return _Looked(
            mastery=mastery,
            of=of,
            own=MapInPlan(neck_map, name),
            fluency=fluency(neck_map),
            others=tuple((one, fluency(one.neck_map)) for one in others.values()),
        )
