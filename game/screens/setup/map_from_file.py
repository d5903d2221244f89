"""A map that came in a file, from a friend or a teacher: it is one more among the player's maps, and replaces none."""

from pathlib import Path
from typing import Final

from game.assignments.map_file import read_map
from game.errors import MapError
from game.neck.neck_map import NeckMap
from game.player.map_facts import LONGEST_MAP_NAME
from game.player.map_names import NamedMap, told_apart
from game.screens.context import ScreenContext
from game.screens.routes import ToMaps
from game.text.catalogue import say
from game.text.clean_text import cleaned

OUR_NAME: Final = "homefret"
"""How the names of files begin that the game gives by itself: they say nothing of a map."""

_ROOM_FOR_NUMBER: Final = 6


def keep_map_from(context: ScreenContext, path: Path) -> ToMaps | None:
    """Keep the map of a file beside the others, on the player's own neck and by the name of the file; where it is kept
    already it is only shown. Returns where it is seen; None for a file that is no map, or one the neck has no room for,
    which is said.
    """
    maps = context.session.maps
    try:
        neck_map = read_map(path).remade(frets=context.settings.frets_left)
        there = next((one for one in maps.all if _same(one.neck_map, neck_map)), None)
        kept = there or maps.keep(_name(path, maps.all), neck_map)
    except MapError as error:
        context.say_error(error)
        return None
    context.say(say("maps.came_already" if there else "maps.came", name=kept.name))
    return ToMaps(kept.id)


def _same(one: NeckMap, other: NeckMap) -> bool:
    told = [(each.position, each.tuning.open_strings, each.reading, each.homes, each.second) for each in (one, other)]
    return told[0] == told[1]


def _name(path: Path, maps: tuple[NamedMap, ...]) -> str:
    """The name of the file, with a number where another map has it; empty for one that we gave."""
    plain = cleaned(path.stem, LONGEST_MAP_NAME - _ROOM_FOR_NUMBER)
    return "" if plain.casefold().startswith(OUR_NAME) else told_apart(plain, {one.name.casefold() for one in maps})
