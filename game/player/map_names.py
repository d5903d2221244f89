"""What maps are called: by the names that the player gave them or, without one, by their position, no two alike."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass

from game.music.score import Reading
from game.neck.neck_map import NeckMap, roman
from game.neck.tuning import STANDARD
from game.player.map_facts import KeptMap
from game.text.catalogue import say


@dataclass(frozen=True, slots=True)
class NamedMap:
    """A map with its name as it is shown. `kept` is no for the one in use while nothing of it is worth keeping."""

    id: str
    name: str
    neck_map: NeckMap
    kept: bool = True


def name_by_itself(neck_map: NeckMap, among: Iterable[NeckMap] = ()) -> str:
    """What a map is called while the player gave it no name: "Position V". Strings and clef are told where they are not
    the usual ones; `among` several maps, where they are not the same for all of these.
    """
    lower, higher = neck_map.positions[0], neck_map.positions[-1]
    if lower == higher:
        name = say("maps.of_position", position=roman(lower))
    else:
        name = say("maps.of_positions", lower=roman(lower), higher=roman(higher))
    others = tuple(among)
    strings = neck_map.tuning.open_strings
    if strings != STANDARD.open_strings and {one.tuning.open_strings for one in others} != {strings}:
        name = say("maps.name_with", name=name, what=neck_map.tuning.told)
    reading = neck_map.reading
    if reading is not Reading.GUITAR and {one.reading for one in others} != {reading}:
        name = say("maps.name_with", name=name, what=say(f"maps.reading.{reading.value}"))
    return name


def named_maps(maps: Iterable[KeptMap], in_use: KeptMap) -> Iterator[NamedMap]:
    """Each with the name it is shown by, no two alike."""
    kept = tuple(maps)
    last = () if any(one.id == in_use.id for one in kept) else (in_use,)
    names = set[str]()
    for one in (*kept, *last):
        neck_map = one.settings.neck_map()
        name = told_apart(one.name or name_by_itself(neck_map), names)
        names.add(name.casefold())
        yield NamedMap(one.id, name, neck_map, kept=one not in last)


def told_apart(plain: str, names: Collection[str]) -> str:
    """A name with a number after it where it is among those that are taken."""
    name, number = plain, 2
    while name.casefold() in names:
        name = say("maps.name_again", name=plain, number=number)
        number += 1
    return name
