"""What comes up more: slow and wrong notes, and a little of what is not known yet."""

from collections.abc import Iterable, Mapping

from game.coach.items import UNREAD, ItemKey, Items, map_name
from game.coach.knowing import cost_s, usual_find_s
from game.coach.numbers import NUMBERS, CoachNumbers
from game.music.keys import MAX_FIFTHS, Key
from game.music.pitch import SEMITONES_OF_STEP
from game.neck.map import NeckMap


def weights(
    items: Items, neck_map: NeckMap, *, due: Iterable[ItemKey] = (), numbers: CoachNumbers = NUMBERS
) -> Mapping[int, float]:
    """How much more often each sounding pitch of the map should come up: 1 is usual. For `fresh_line`.

    A pitch is as costly as the costliest of its items on this map. One never read weighs 1: it stands between the slow
    and the quick, for it may be either. Items that are `due` come up like slow ones.
    """
    usual_s = usual_find_s(items, numbers)
    unknown = cost_s(UNREAD, usual_s, doubt=numbers.doubt, numbers=numbers)
    places, on_map = neck_map.places, map_name(neck_map)
    costs: dict[int, float] = {}
    for key, item in items.items():
        if key.map_name == on_map and places.get(key.sounding) == key.place:
            cost = cost_s(item, usual_s, doubt=numbers.doubt, numbers=numbers)
            costs[key.sounding] = max(cost, costs.get(key.sounding, 0.0))
    lifted = {key.sounding for key in due if key.map_name == on_map and places.get(key.sounding) == key.place}
    found = {}
    for sounding in places:
        weight = (costs.get(sounding, unknown) / unknown) ** numbers.weight_power
        weight = max(weight, numbers.due_weight) if sounding in lifted else weight
        found[sounding] = min(max(weight, numbers.weight_least), numbers.weight_most)
    return found


def key_for(wanted: Mapping[int, float], neck_map: NeckMap, keys: Iterable[Key] | None = None) -> Key:
    """Of `keys` (all major ones by default) the one whose notes on the map weigh most on average; of equals the one
    with fewest signs. A slow F♯ is never met in F.
    """
    choices = tuple(keys) if keys is not None else tuple(Key(fifths) for fifths in range(-MAX_FIFTHS, MAX_FIFTHS + 1))
    return max(choices, key=lambda key: (round(_mean_weight(wanted, neck_map, key), 9), -abs(key.fifths), -key.fifths))


def _mean_weight(wanted: Mapping[int, float], neck_map: NeckMap, key: Key) -> float:
    inside = {(key.alter_of(step) + semitones) % 12 for step, semitones in SEMITONES_OF_STEP.items()}
    found = [wanted.get(home.sounding, 1.0) for home in neck_map.homes if home.sounding % 12 in inside]
    return sum(found) / len(found) if found else 0.0
