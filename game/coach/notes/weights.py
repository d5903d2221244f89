"""What comes up more: slow and wrong notes, and a little of what is not known yet."""

from collections.abc import Iterable, Mapping

from game.coach.notes.carried_over import expected_find_s, items_on
from game.coach.notes.item_estimate import combined_items, cost_s, usual_find_s
from game.coach.notes.items import UNREAD, Item, ItemKey, Items, item_on_day, map_name
from game.coach.numbers import NUMBERS, CoachNumbers
from game.music.keys import Key
from game.music.pitch import SEMITONES_OF_STEP
from game.neck.neck_map import NeckMap


def pitch_weights(
    items: Items, neck_map: NeckMap, *, due: Iterable[ItemKey] = (), numbers: CoachNumbers = NUMBERS
) -> Mapping[int, float]:
    """How much more often each sounding pitch of the map should come up: 1 is usual. For `fresh_line`.

    A pitch is as costly as the costliest of its items on this map. One never read weighs 1: it stands between the slow
    and the quick, for it may be either; and a little less where its letter is known from another map. Items that are
    `due` come up like slow ones.
    """
    places, on_map, items = neck_map.places, map_name(neck_map), items_on(items, neck_map)
    usual_s, expected_s = usual_find_s(items, numbers, on_map=on_map), expected_find_s(items, neck_map, numbers)
    unknown = cost_s(UNREAD, usual_s, doubt=numbers.doubt, numbers=numbers)
    costs: dict[int, float] = {}
    for key, item in items.items():
        if key.map_name == on_map and places.get(key.sounding) == key.place:
            cost = cost_s(item, usual_s, doubt=numbers.doubt, numbers=numbers)
            costs[key.sounding] = max(cost, costs.get(key.sounding, 0.0))
    for sounding, find_s in expected_s.items():
        if sounding not in costs and find_s != usual_s:
            costs[sounding] = cost_s(UNREAD, find_s, doubt=numbers.doubt, numbers=numbers)
    lifted = {key.sounding for key in due if key.map_name == on_map and places.get(key.sounding) == key.place}
    found = {}
    for sounding in places:
        weight = (costs.get(sounding, unknown) / unknown) ** numbers.weight_power
        weight = max(weight, numbers.due_weight) if sounding in lifted else weight
        found[sounding] = min(max(weight, numbers.weight_least), numbers.weight_most)
    return found


def items_by_pitch(items: Items, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> Mapping[int, Item]:
    """What is known of each sounding pitch that was read at its home on this map, all its spellings taken together: the
    way to the home is one, and a spelling read once tells little by itself.
    """
    places, on_map, items = neck_map.places, map_name(neck_map), items_on(items, neck_map)
    here = [(k, i) for k, i in items.items() if k.map_name == on_map and places.get(k.sounding) == k.place]
    day = max((item.day for _, item in here), default=0)
    found: dict[int, Item] = {}
    for key, item in here:
        found[key.sounding] = combined_items(found.get(key.sounding, UNREAD), item_on_day(item, day, numbers))
    return found


def slow_pitches(
    items: Items, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS, *, doubt: float | None = None
) -> Mapping[int, float]:
    """The pitches of the map that cost more than a fluent map allows or are often wrong, as many as are practised at
    once, and how many seconds each costs, looked at with some `doubt` (that of the table where none is given). Pitches
    never read are not among them.
    """
    costs = costs_over(items, neck_map, numbers, doubt=numbers.doubt if doubt is None else doubt)
    return dict(list(costs.items())[: numbers.slow_notes])


def costs_over(items: Items, neck_map: NeckMap, numbers: CoachNumbers, *, doubt: float) -> Mapping[int, float]:
    """All such pitches with their costs, the costliest first."""
    usual_s = usual_find_s(items, numbers, on_map=map_name(neck_map))
    limit_s = numbers.slow_find_s * (1 + numbers.wrong_costs * (1 - numbers.slow_right))
    met = items_by_pitch(items, neck_map, numbers)
    costs = {sounding: cost_s(item, usual_s, doubt=doubt, numbers=numbers) for sounding, item in met.items()}
    over = [sounding for sounding, cost in costs.items() if cost > limit_s or is_often_wrong(met[sounding], numbers)]
    return {sounding: costs[sounding] for sounding in sorted(over, key=lambda sounding: (-costs[sounding], sounding))}


def is_often_wrong(item: Item, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a note, read often enough to tell, is right less often than a fluent map asks."""
    told = item.readings >= numbers.often_wrong_readings
    return told and item.right < numbers.slow_right * (item.right + item.wrong)


def single_note_weights(
    wanted: Mapping[int, float], slow: Mapping[int, float], numbers: CoachNumbers = NUMBERS
) -> Mapping[int, float]:
    """The weights for single notes: the `slow` pitches, by their seconds, make up the share of the table; the
    rest are those `wanted`, as much as they are.
    """
    rest = {pitch: weight for pitch, weight in wanted.items() if pitch not in slow}
    powers = {pitch: cost**numbers.single_notes_power for pitch, cost in slow.items()}
    share = numbers.single_notes_slow_share / (1 - numbers.single_notes_slow_share)
    scale = (sum(rest.values()) or 1.0) * share / (sum(powers.values()) or 1.0)
    return rest | {pitch: power * scale for pitch, power in powers.items()}


def key_of_most_weight(wanted: Mapping[int, float], neck_map: NeckMap, keys: Iterable[Key]) -> Key:
    """Of `keys` the one whose notes on the map weigh most on average; of equals the one
    with fewest signs. A slow F♯ is never met in F.
    """
    return max(keys, key=lambda key: (round(_mean_weight(wanted, neck_map, key), 9), -abs(key.fifths), -key.fifths))


def covering_keys(
    wanted: Mapping[int, float], neck_map: NeckMap, keys: Iterable[Key], numbers: CoachNumbers = NUMBERS
) -> tuple[Key, ...]:
    """A few of `keys` that together hold every pitch worth looking at (weight 1 or more), the worthiest key first: a
    slow F♯ and a slow B♭ are never met in one key, so keys have to take turns.
    """
    choices, found, left = tuple(keys), list[Key](), dict(wanted)
    while len(found) < numbers.keys_in_turn:
        key = key_of_most_weight(left, neck_map, choices)
        found.append(key)
        inside = pitch_classes(key)
        left = {sounding: 0.0 if sounding % 12 in inside else weight for sounding, weight in left.items()}
        if max(left.values(), default=0.0) < 1:
            break
    return tuple(dict.fromkeys(found))


def pitch_classes(key: Key) -> frozenset[int]:
    """The notes of a key as numbers from 0 (C) to 11 (B)."""
    return frozenset((key.alter_of(step) + semitones) % 12 for step, semitones in SEMITONES_OF_STEP.items())


def _mean_weight(wanted: Mapping[int, float], neck_map: NeckMap, key: Key) -> float:
    inside = pitch_classes(key)
    found = [wanted.get(home.sounding, 1.0) for home in neck_map.homes if home.sounding % 12 in inside]
    return sum(found) / len(found) if found else 0.0
