"""A map in the settings: what of them it is made of, settings with another, and which of the kept ones is theirs."""

from typing import Any

import msgspec

from game.errors import MapError
from game.neck.neck_map import NeckMap
from game.neck.tuning import MAX_FRETS
from game.player.map_facts import MAP_FIELDS, KeptMap, MapFacts, id_of_position
from game.player.settings import Settings, Stretches


def settings_with(settings: Settings, neck_map: NeckMap) -> Settings:
    """These settings with another map. Raises `MapError` for one that settings cannot tell of: their hand spans four
    frets and stretches by one. A map counts its frets from the capo, the settings those of the whole neck.
    """
    hand = neck_map.hand
    stretches = next(one for one in Stretches if (one.back, one.on) == (min(hand.back, 1), min(hand.on, 1)))
    changed = msgspec.structs.replace(
        settings,
        tuning=neck_map.tuning.name,
        reading=neck_map.reading,
        position=neck_map.position,
        choices={sounding: (place.string, place.fret) for sounding, place in neck_map.choices.items()},
        stretches=stretches,
        open_strings=hand.open_strings,
        second=(neck_map.second.position, neck_map.second.seam) if neck_map.second else None,
        frets=min(MAX_FRETS, neck_map.frets + settings.capo_in_use),
    )
    if changed.neck_map().homes != neck_map.homes:
        raise MapError("maps.other_hand")
    return changed


def map_part(settings: Settings) -> tuple[Any, ...]:
    """What the settings say of a map: two alike are one map."""
    return tuple(getattr(settings, name) for name in MAP_FIELDS)


def over_with(settings: Settings, made_of: Settings) -> Settings:
    """These settings with the map of others."""
    return msgspec.structs.replace(settings, **{name: getattr(made_of, name) for name in MAP_FIELDS})


def is_changed_by_hand(settings: Settings) -> bool:
    """Whether a map is more than its position."""
    return bool(settings.choices) or settings.second is not None


def ground_of(neck_map: NeckMap) -> tuple[object, ...]:
    """What makes it another map than one before it, and not the same one changed."""
    return neck_map.position, neck_map.tuning.open_strings, neck_map.reading


def map_in_use(facts: MapFacts, settings: Settings) -> KeptMap:
    """The map of the settings: of several that are alike the one used last; one by its position where none is kept."""
    part, used = map_part(settings), facts.used
    alike = [one for one in facts.maps if map_part(one.settings) == part]
    if alike:
        return max(alike, key=lambda one: used.index(one.id) if one.id in used else -1)
    own_id = id_of_position(settings.neck_map())
    taken = own_id in {one.id for one in facts.maps}
    return KeptMap(own_id[::-1] if taken else own_id, "", settings)
