"""What carries over from one map to another, when notes are looked at; what is remembered of each map stays apart.

A home that is the same on both maps is known on both: the same written note at the same string and fret. Of all other
notes the name carries over: whoever reads E♭ on one map looks only for its place on the next, which takes less time
than a newcomer needs (`known_letter_find`, ours).
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from game.coach.notes.item_estimate import usual_find_s
from game.coach.notes.items import ItemKey, Items, map_name
from game.coach.numbers import NUMBERS, CoachNumbers
from game.music.keys import Key, spelled
from game.neck.neck_map import NeckMap


def items_on(items: Items, neck_map: NeckMap) -> Items:
    """The items, and for each home of the map that was never read on it what was read there on another map of the same
    strings and octave: the same written note at the same place.
    """
    on_map = map_name(neck_map)
    if all(key.map_name == on_map for key in items):
        return items
    places, strings = neck_map.places, _strings_of(on_map)
    read_here = {(key.sounding, key.place) for key in items if key.map_name == on_map}
    carried: dict[ItemKey, ItemKey] = {}
    for key in items:
        same = key.map_name != on_map and _strings_of(key.map_name) == strings
        if same and places.get(key.sounding) == key.place and (key.sounding, key.place) not in read_here:
            here = replace(key, map_name=on_map)
            if here not in carried or items[carried[here]].day < items[key].day:
                carried[here] = key
    return {**items, **{here: items[key] for here, key in carried.items()}} if carried else items


def known_letters(items: Items, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> frozenset[int]:
    """The pitches of the map whose homes were never read, but that are written as a note that was read often enough on
    another map: their letters are known, their places are not.
    """
    on_map, items = map_name(neck_map), items_on(items, neck_map)
    readings: dict[str, int] = {}
    here = set()
    for key, item in items.items():
        if key.map_name != on_map:
            readings[key.written] = readings.get(key.written, 0) + item.readings
        elif neck_map.places.get(key.sounding) == key.place:
            here.add(key.sounding)
    known = {written for written, times in readings.items() if times >= numbers.known_letter_readings}
    up = 12 * neck_map.reading.octaves_down
    return frozenset(
        sounding
        for sounding in neck_map.places
        if sounding not in here and not known.isdisjoint(_spellings(sounding + up))
    )


def expected_find_s(items: Items, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> Mapping[int, float]:
    """For each pitch of the map how long its finding is thought to take before it was ever timed there, in seconds: the
    usual time on this map, and less where the letter is known.
    """
    usual_s = usual_find_s(items, numbers, on_map=map_name(neck_map))
    known = known_letters(items, neck_map, numbers)
    return {
        sounding: usual_s * numbers.known_letter_find if sounding in known else usual_s for sounding in neck_map.places
    }


def most_new_a_day(items: Items, neck_map: NeckMap, numbers: CoachNumbers = NUMBERS) -> int:
    """How many notes are met for the first time on one day: more on a map whose letters are known from another one."""
    known = known_letters(items, neck_map, numbers)
    here = (key for key in items_on(items, neck_map) if key.map_name == map_name(neck_map))
    read = {key.sounding for key in here if neck_map.places.get(key.sounding) == key.place}
    unread = len(neck_map.places) - len(read)
    many = bool(known) and len(known) >= numbers.known_letters_share * unread
    return numbers.new_a_day_known_letters if many else numbers.new_a_day


@lru_cache(maxsize=256)
def _spellings(written_midi: int) -> frozenset[str]:
    """The names under which a pitch of the page may stand."""
    return frozenset(spelled(written_midi, Key(fifths)).name for fifths in range(-_MOST_SIGNS, _MOST_SIGNS + 1))


_MOST_SIGNS = 6


def _strings_of(name: str) -> str:
    """The name of a map without its position."""
    return name.partition(", ")[2]
