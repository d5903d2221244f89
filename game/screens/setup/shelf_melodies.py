"""What the tunes on the shelf ask of a map, counted together."""

from game.music.score import Reading
from game.neck.melody_counts import MelodyCounts, counted_together
from game.tunes.library.library import shelf


def shelf_melodies(reading: Reading) -> MelodyCounts:
    """How often each pitch is written in all of them, for a player who reads so."""
    return counted_together(MelodyCounts(dict(entry.sounding(reading))) for entry in shelf())
