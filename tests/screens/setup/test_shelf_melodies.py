"""What the shelf asks of a map is counted from the tunes themselves, as their player reads."""

from game.music.score import Reading
from game.neck.map_figures import figures_of
from game.neck.melody_counts import counted_together
from game.neck.neck_map import standard_map
from game.neck.tuning import tuning_named
from game.screens.setup.map_shelf import MapShelf
from game.screens.setup.shelf_melodies import shelf_melodies
from game.tunes.library.library import shelf

MAP = standard_map()


def test_every_pitch_and_what_follows_it_is_counted_over_all_tunes():
    counts = shelf_melodies(MAP)
    assert counts.notes >= sum(entry.notes for entry in shelf())  # repeats are written out
    # Each tune has one pair less than it has notes.
    assert sum(counts.pairs.values()) == counts.notes - len(shelf())


def test_at_concert_pitch_all_of_it_sounds_an_octave_higher():
    guitar, concert = shelf_melodies(MAP), shelf_melodies(MAP.with_reading(Reading.CONCERT))
    assert concert.notes == guitar.notes
    assert set(concert.counts) == {sounding + 12 for sounding in guitar.counts}
    assert set(concert.pairs) == {(one + 12, other + 12) for one, other in guitar.pairs}


def test_in_another_clef_tunes_are_counted_in_the_octave_where_the_map_has_them_as_on_the_sheet_of_the_map():
    bass = standard_map(tuning=tuning_named("bass"), reading=Reading.BASS)
    assert shelf_melodies(bass) == MapShelf(shelf(), bass).counts
    octave_of_guitar = counted_together(entry.melody(Reading.BASS) for entry in shelf())
    assert figures_of(bass, shelf_melodies(bass)).on_map_share > figures_of(bass, octave_of_guitar).on_map_share
