"""Which notes of a map are met next: a few a day, in the order in which they cost the hand least."""

from collections.abc import Collection, Iterable, Mapping

from game.coach.notes.carried_over import most_new_a_day
from game.coach.notes.items import ItemKey, Items, map_name
from game.coach.notes.ratings import DayOfItem
from game.coach.notes.slow_notes import slow_notes
from game.coach.notes.weights import items_by_pitch, pitch_classes
from game.coach.numbers import NUMBERS, CoachNumbers
from game.music.keys import Key
from game.neck.neck_map import NeckMap, Reach

_MOST_SIGNS = 6


def keys_by_reach(neck_map: NeckMap, keys: Iterable[Key]) -> tuple[Key, ...]:
    """Those first whose notes cost fewest stretches on the map, of equals those with fewest signs: in position V it is
    F, B♭, C (which stretches for B), then G.
    """
    stretched = [home.sounding for home in neck_map.homes if home.reach is not Reach.IN_POSITION]

    def cost(key: Key) -> tuple[int, int, int]:
        inside = pitch_classes(key)
        return sum(sounding % 12 in inside for sounding in stretched), abs(key.fifths), key.fifths

    return tuple(sorted(keys, key=cost))


def notes_to_meet(
    items: Items, neck_map: NeckMap, met_today: Collection[int] = (), numbers: CoachNumbers = NUMBERS
) -> tuple[int, ...]:
    """The pitches to be met next, today: of those never read at their home first those of the key that costs fewest
    stretches, and of a key's those nearest to the middle of the map, so that it grows from there.

    No more than are learned in a day, `met_today` counted in; and fewer while many of those met are slow or unsure.
    """
    unsure = len(slow_notes(items, neck_map, numbers)) > numbers.unsure_most
    most = numbers.new_while_unsure if unsure else most_new_a_day(items, neck_map, numbers)
    return _unmet(items, neck_map, numbers)[: max(most - len(met_today), 0)]


def met_first_today(items: Items, today: Mapping[ItemKey, DayOfItem], neck_map: NeckMap) -> frozenset[int]:
    """The pitches of the map that were never read before `today`, which holds the readings of the day."""
    on_map, places = map_name(neck_map), neck_map.places
    before: dict[int, int] = {}
    for key in today:
        if key.map_name == on_map and places.get(key.sounding) == key.place:
            before.setdefault(key.sounding, 0)
    for key, item in items.items():
        if key.sounding in before and key.map_name == on_map and places.get(key.sounding) == key.place:
            before[key.sounding] += item.readings - (today[key].readings if key in today else 0)
    return frozenset(sounding for sounding, readings in before.items() if readings <= 0)


def _unmet(items: Items, neck_map: NeckMap, numbers: CoachNumbers) -> tuple[int, ...]:
    met, all_of_map = items_by_pitch(items, neck_map, numbers), sorted(neck_map.places)
    middle = all_of_map[len(all_of_map) // 2]
    in_order = [pitch_classes(key) for key in keys_by_reach(neck_map, map(Key, range(-_MOST_SIGNS, _MOST_SIGNS + 1)))]

    def comes(sounding: int) -> tuple[int, int, int]:
        turn = next(turn for turn, inside in enumerate(in_order) if sounding % 12 in inside)
        return turn, abs(sounding - middle), sounding

    return tuple(sorted(set(all_of_map) - set(met), key=comes))
