"""What can be done about a tune that does not lie on the map."""

from game.neck.neck_map import standard_map
from game.tunes.library.fitting import Remedy, notes_off_map, ways_to_fit
from tests.made import score

MAP = standard_map()


def test_a_tune_on_the_map_needs_nothing():
    """Position V holds written A♭3 to C♯6 (check-values; calc)."""
    assert ways_to_fit(score("F4 q, G4 q, A4 h"), MAP) == ()


def test_a_tune_too_low_fits_an_octave_higher():
    low = score("F3 q, G3 q, A3 h")
    assert notes_off_map(low, MAP) == 2
    octave = next(way for way in ways_to_fit(low, MAP) if way.remedy is Remedy.OCTAVE)
    assert octave.off_map == 0
    assert [note.pitch.name for note in octave.score.bars[0].notes] == ["F4", "G4", "A4"]


def test_another_key_keeps_every_interval():
    low = score("F3 q, G3 q, A3 h", "C5 w")
    key = next(way for way in ways_to_fit(low, MAP) if way.remedy is Remedy.KEY)
    assert key.off_map == 0
    before = [note.pitch.midi for bar in low.bars for note in bar.notes]
    after = [note.pitch.midi for bar in key.score.bars for note in bar.notes]
    assert len({b - a for a, b in zip(before, after, strict=True)}) == 1


def test_another_position_is_found():
    low = score("F3 q, G3 q, A3 h", "C5 w")
    position = next(way for way in ways_to_fit(low, MAP) if way.remedy is Remedy.POSITION)
    assert position.off_map == 0
    assert all(standard_map(position=position.position).home_of(sounding) for sounding in (41, 43, 45, 60))


def test_outlying_homes_are_the_places_nearest_to_the_hand():
    low = score("F3 q, G3 q, A3 h")
    outlying = next(way for way in ways_to_fit(low, MAP) if way.remedy is Remedy.OUTLYING)
    assert [(place.string, place.fret) for place in outlying.places] == [(6, 1), (6, 3)]
    assert outlying.off_map == 0


def test_the_best_way_comes_first():
    ways = ways_to_fit(score("F3 q, G3 q, A3 q, C6 q"), MAP)
    assert [way.off_map for way in ways] == sorted(way.off_map for way in ways)
