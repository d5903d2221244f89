"""What the tunes on the shelf ask of a map: how often each pitch is played, and what comes after it."""

from game.music.score import Reading
from game.neck.melody_counts import MelodyCounts, counted_together
from game.tunes.library.library import shelf, with_pairs


def shelf_melodies(reading: Reading) -> MelodyCounts:
    """All of them counted together, for a player who reads so. Of a tune that cannot be read only its pitches count."""
    return counted_together(with_pairs(entry).melody(reading) for entry in shelf())
