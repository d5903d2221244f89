"""What can be done about a tune that does not lie on the map."""

import pytest

from game.neck.hand import UNSTRETCHED
from game.neck.neck_map import SecondRegion, standard_map
from game.tunes.library.fitting import FEW_OUTLYING, Remedy, notes_off_map, ways_to_fit
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


def test_outlying_homes_are_where_the_hand_gets_at_least_cost():
    """F2 and G2 (41, 43) have one place each, E6 written (76) four: the nearest to position V is on string 1 (calc)."""
    outlying = of_remedy(ways_to_fit(score("F3 q, G3 q, A3 h"), MAP), Remedy.OUTLYING)
    assert [(place.string, place.fret) for place in outlying.places] == [(6, 1), (6, 3)]
    assert outlying.off_map == 0
    high = of_remedy(ways_to_fit(score("A4 q, E6 q, A4 h"), MAP), Remedy.OUTLYING)
    assert [(place.string, place.fret) for place in high.places] == [(1, 12)]


def of_remedy(ways, remedy):
    return next(way for way in ways if way.remedy is remedy)


ONE_TOO_HIGH = "F4 q, G4 q, A4 q, D6 q"
TWO_TOO_HIGH = "F4 q, G4 q, D6 q, E6 q"
THREE_TOO_HIGH = "F4 q, D6 q, E6 q, F6 q"


@pytest.mark.parametrize("line", [ONE_TOO_HIGH, TWO_TOO_HIGH])
def test_one_or_two_outlying_homes_come_before_another_octave_key_or_position(line):
    """As a teacher would: the tune and the map stay what they are (trade)."""
    remedies = [way.remedy for way in ways_to_fit(score(line), MAP)]
    assert remedies[0] is Remedy.OUTLYING
    assert {Remedy.OCTAVE, Remedy.KEY} & set(remedies)


def test_many_outlying_homes_come_after_everything_else():
    ways = ways_to_fit(score(THREE_TOO_HIGH), MAP)
    assert [way.remedy for way in ways][-1] is Remedy.OUTLYING
    assert len(ways) > 1


def test_of_ways_that_leave_as_much_the_octave_comes_before_the_key_and_the_key_before_the_position():
    ways = ways_to_fit(score("F3 q, G3 q, E3 q, G#3 q"), MAP)
    complete = [way.remedy for way in ways if not way.off_map and way.remedy is not Remedy.OUTLYING]
    assert complete == [Remedy.OCTAVE, Remedy.KEY, Remedy.POSITION]


def test_what_leaves_notes_without_a_home_comes_after_what_leaves_none():
    ways = ways_to_fit(score("F3 q, G3 q, A3 q, C6 q"), MAP)
    usual = [way for way in ways if len(way.places) <= FEW_OUTLYING]
    assert [way.off_map for way in usual] == sorted(way.off_map for way in usual)


def test_a_tune_with_nothing_on_the_map_gets_another_octave_or_key_first():
    """Four notes below all of position V."""
    low = score("E3 q, F3 q, F#3 q, G3 q")
    assert notes_off_map(low, MAP) == 4
    ways = ways_to_fit(low, MAP)
    assert ways[0].remedy is Remedy.OCTAVE
    assert ways[0].off_map == 0
    assert ways[-1].remedy is Remedy.OUTLYING


def test_notes_that_the_instrument_has_not_get_no_outlying_home():
    """Sounding E1 (28) lies an octave below the lowest string; F3 written is fret 1 of it (calc)."""
    outlying = of_remedy(ways_to_fit(score("E2 q, F3 q, A4 h"), MAP), Remedy.OUTLYING)
    assert len(outlying.places) == 1
    assert outlying.off_map == 1


def test_where_nothing_is_on_the_instrument_no_home_and_no_position_is_proposed():
    remedies = {way.remedy for way in ways_to_fit(score("E1 q, F1 q, G1 h"), MAP)}
    assert not remedies & {Remedy.OUTLYING, Remedy.POSITION}


def test_a_tune_of_one_pitch_gets_one_outlying_home():
    ways = ways_to_fit(score("E6 q, E6 q, E6 h"), MAP)
    assert (ways[0].remedy, len(ways[0].places), ways[0].off_map) == (Remedy.OUTLYING, 1, 0)


def test_a_tune_without_notes_needs_nothing():
    assert ways_to_fit(score("r w"), MAP) == ()


def test_on_a_joined_map_neither_of_its_positions_is_proposed():
    joined = standard_map(second=SecondRegion(position=9, seam=64))
    for way in ways_to_fit(score("E3 q, F3 q, F#3 q, C6 q"), joined):
        assert way.position not in joined.positions


def test_a_hand_without_stretches_is_proposed_a_position_for_its_own_hand():
    """F♯3, B3 sounding are stretches in position V (check-values); another position has them under the fingers."""
    small = standard_map(hand=UNSTRETCHED)
    position = of_remedy(ways_to_fit(score("B4 q, F#4 q, E4 q, D4 q", "C#4 w"), small), Remedy.POSITION)
    assert position.off_map < notes_off_map(score("B4 q, F#4 q, E4 q, D4 q", "C#4 w"), small)
