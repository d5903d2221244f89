"""Which finger and string a pitch has on a map."""

from functools import lru_cache

from game.neck.neck_map import NeckMap

_FINGERS = 4


@lru_cache(maxsize=64)
def _fingers(homes: tuple[tuple[int, int, int], ...], position: int) -> dict[int, tuple[int, int]]:
    return {written: (min(max(fret - position, 0), _FINGERS - 1), string) for written, string, fret in homes}


def fingers_of(neck_map: NeckMap) -> dict[int, tuple[int, int]]:
    """Finger (0 the first, 3 the fourth) and string by written MIDI number; a stretch has the finger that reaches."""
    up = 12 * neck_map.reading.octaves_down
    homes = tuple((home.sounding + up, home.place.string, home.place.fret) for home in neck_map.homes)
    return _fingers(homes, neck_map.position)
