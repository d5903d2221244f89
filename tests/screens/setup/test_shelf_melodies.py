"""What the shelf asks of a map is counted from the tunes themselves, as their player reads."""

from game.music.score import Reading
from game.screens.setup.shelf_melodies import shelf_melodies
from game.tunes.library.library import shelf


def test_every_pitch_and_what_follows_it_is_counted_over_all_tunes():
    counts = shelf_melodies(Reading.GUITAR)
    assert counts.notes >= sum(entry.notes for entry in shelf())  # repeats are written out
    # Each tune has one pair less than it has notes.
    assert sum(counts.pairs.values()) == counts.notes - len(shelf())


def test_at_concert_pitch_all_of_it_sounds_an_octave_higher():
    guitar, concert = shelf_melodies(Reading.GUITAR), shelf_melodies(Reading.CONCERT)
    assert concert.notes == guitar.notes
    assert set(concert.counts) == {sounding + 12 for sounding in guitar.counts}
    assert set(concert.pairs) == {(one + 12, other + 12) for one, other in guitar.pairs}
