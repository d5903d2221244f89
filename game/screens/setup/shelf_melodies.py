"""What the tunes on the shelf ask of a map: how often each pitch is played, and what comes after it."""

from game.neck.melody_counts import MelodyCounts, counted_together
from game.neck.neck_map import NeckMap
from game.tunes.library.library import shelf, with_pairs


def shelf_melodies(neck_map: NeckMap) -> MelodyCounts:
    """All of them counted together, as they sound for a player with this map. Of a tune that cannot be read only its
    pitches count.
    """
    homes = neck_map.places
    return counted_together(with_pairs(entry).melody(neck_map.reading, homes) for entry in shelf())
