"""Which map holds in an assignment: the one that was set, on the neck and under the hand of whoever plays it. Pure."""

from dataclasses import dataclass

from game.errors import MapError
from game.message import Message, message
from game.neck.hand import USUAL_HAND
from game.neck.neck_map import NeckMap


@dataclass(frozen=True, slots=True)
class MapHeld:
    """The map, and why it is the player's own where another was set; None where there is nothing to say."""

    neck_map: NeckMap
    trouble: Message | None = None


def map_held(assigned: NeckMap | None, own: NeckMap) -> MapHeld:
    """The map that holds within an assignment. The player's own where none was set; where it is of the same position
    and nothing was said of homes, so that those moved by hand stay; and where it needs other strings or more frets than
    the guitar has. How far the hand stretches is the player's own, unless that was set, too.
    """
    if assigned is None or _is_own(assigned, own):
        return MapHeld(own)
    if assigned.tuning.open_strings != own.tuning.open_strings:
        return MapHeld(own, _other_strings(assigned, own))
    frets = min(assigned.frets, own.frets)
    choices = {sounding: place for sounding, place in assigned.choices.items() if place.fret <= frets}
    hand = own.hand if assigned.hand == USUAL_HAND else assigned.hand
    try:
        return MapHeld(assigned.remade(frets=frets, choices=choices, hand=hand))
    except MapError:
        return MapHeld(own, message("assignment.map_too_high", position=assigned.position, frets=own.frets))


def _is_own(assigned: NeckMap, own: NeckMap) -> bool:
    said_of_homes = assigned.choices or assigned.second or assigned.hand != USUAL_HAND
    return not said_of_homes and own.second is None and _ground(assigned) == _ground(own)


def _ground(neck_map: NeckMap) -> tuple[object, ...]:
    return neck_map.position, neck_map.tuning.open_strings, neck_map.reading


def _other_strings(assigned: NeckMap, own: NeckMap) -> Message:
    if assigned.tuning.strings != own.tuning.strings:
        return message(
            "assignment.map_of_other_strings", strings=assigned.tuning.strings, own_strings=own.tuning.strings
        )
    return message("assignment.map_of_other_tuning", tuning=assigned.tuning.told)
