"""Which notes are slow: one answer for the plan, every screen and every page.

A pitch is slow that costs the player more at its home than a fluent map allows, wrong answers counted, by all its
spellings together; and one that is found soon enough and is often wrong is unsure, and stands among the slow. It is
told by the spelling that costs most.
"""

from dataclasses import dataclass
from math import exp

from game.coach.notes.carried_over import items_on
from game.coach.notes.item_estimate import cost_s, find_time_estimate, usual_find_s
from game.coach.notes.items import ItemKey, Items, map_name
from game.coach.notes.weights import costs_over, is_often_wrong, items_by_pitch
from game.coach.numbers import NUMBERS, CoachNumbers
from game.neck.neck_map import NeckMap


@dataclass(frozen=True, slots=True, kw_only=True)
class SlowHome:
    """A slow note: by which item it is told, the seconds it takes to find, and what it costs, wrong answers counted.
    `unsure` are those that are found soon enough, and often wrong.
    """

    key: ItemKey
    find_s: float
    cost_s: float
    unsure: bool = False


def slow_notes(items: Items, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> tuple[SlowHome, ...]:
    """The slow notes of a map, the costliest first, as many as are practised at once; none that nothing tells of."""
    items = items_on(items, neck_map)
    together = items_by_pitch(items, neck_map, numbers)
    usual_s = usual_find_s(items, numbers, on_map=map_name(neck_map))
    found = []
    for sounding, cost in costs_over(items, neck_map, numbers, doubt=0.0).items():
        item = together[sounding]
        find_s = exp(find_time_estimate(item, usual_s, numbers).mean_log_s)
        # Of a note whose search was never timed it is only thought to take as long as others.
        slow = item.timed > 0 and item.readings >= numbers.slow_readings and find_s > numbers.slow_find_s
        if slow or is_often_wrong(item, numbers):
            key = _costliest_spelling(items, neck_map, sounding, usual_s, numbers)
            found.append(SlowHome(key=key, find_s=find_s, cost_s=cost, unsure=not slow))
    return tuple(found[: numbers.slow_notes])


def _costliest_spelling(
    items: Items, neck_map: NeckMap, sounding: int, usual_s: float, numbers: CoachNumbers
) -> ItemKey:
    """The item of a pitch, at its home, that costs most; of equals the first by name."""
    on_map, place = map_name(neck_map), neck_map.places[sounding]
    here = (key for key in items if (key.sounding, key.map_name, key.place) == (sounding, on_map, place))
    read = (key for key in here if items[key].readings)
    return min(read, key=lambda key: (-cost_s(items[key], usual_s, numbers=numbers), key.written, key.shown.value))
