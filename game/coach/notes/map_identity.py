"""Which map something was read on: a text that tells one map of a player from another.

It is made of the homes, not of how they were chosen: a map joined of two regions is the same as one whose homes were
chosen one by one, and a home that was chosen where it lies anyway is none of its own. Frets and hand are left out.
"""

import re
from functools import lru_cache

from game.coach.notes.items import map_name
from game.music.score import Reading
from game.neck.neck_map import NeckMap, standard_map
from game.neck.tuning import Place, Tuning

LONGEST_MAP_TEXT = 4_000
"""Characters: of a map of eight strings with every home moved there are fewer."""

_CHOICE = re.compile(r"(\d{1,3}):(\d{1,2})/(\d{1,2})")
_BEFORE_CHOICES = "; "


@lru_cache(maxsize=64)
def _usual_places(position: int, tuning: Tuning, frets: int, reading: Reading) -> dict[int, Place]:
    return standard_map(position=position, tuning=tuning, frets=frets, reading=reading).places


def map_key(neck_map: NeckMap) -> str:
    """The text of a map: its name (`map_name`), and the homes that lie elsewhere than the standard map has them."""
    usual = _usual_places(neck_map.position, neck_map.tuning, neck_map.frets, neck_map.reading)
    moved = [home for home in neck_map.homes if usual.get(home.sounding) != home.place]
    name = map_name(neck_map)
    if not moved:
        return name
    return name + _BEFORE_CHOICES + " ".join(f"{one.sounding}:{one.place.string}/{one.place.fret}" for one in moved)


def homes_apart(one: str, other: str) -> int | None:
    """How many homes differ between two maps of one name; None where their names differ."""
    name, choices = _divided(one)
    other_name, other_choices = _divided(other)
    if name != other_name:
        return None
    sounding = choices.keys() | other_choices.keys()
    return sum(choices.get(pitch) != other_choices.get(pitch) for pitch in sounding)


def _divided(key: str) -> tuple[str, dict[int, Place]]:
    name, _, told = key.partition(_BEFORE_CHOICES)
    found = (_CHOICE.fullmatch(word) for word in told.split())
    return name, {int(one[1]): Place(int(one[2]), int(one[3])) for one in found if one is not None}
