"""Which map holds in an assignment."""

from game.assignments.assigned_map import map_held
from game.music.score import Reading
from game.neck.hand import FrettingHand
from game.neck.neck_map import standard_map
from game.neck.tuning import Place, tuning_named

OWN = standard_map(position=5, choices={64: Place(3, 9)}, hand=FrettingHand(back=0, on=0))


def test_the_map_that_was_set_holds_under_the_players_own_hand():
    held = map_held(standard_map(position=7), OWN)
    assert (held.neck_map.position, held.neck_map.hand, held.trouble) == (7, OWN.hand, None)
    assert not held.neck_map.choices


def test_homes_moved_by_hand_stay_where_the_same_position_was_set():
    assert map_held(standard_map(position=5), OWN).neck_map == OWN
    assert map_held(None, OWN).neck_map == OWN


def test_homes_that_were_set_and_another_octave_hold():
    chosen = standard_map(position=5, choices={60: Place(4, 10)})
    assert map_held(chosen, OWN).neck_map.choices == {60: Place(4, 10)}
    concert = standard_map(position=5, reading=Reading.CONCERT)
    assert map_held(concert, OWN).neck_map.reading is Reading.CONCERT


def test_a_map_for_other_strings_is_read_on_the_players_own_with_a_word():
    seven = standard_map(tuning=tuning_named("35 40 45 50 55 59 64"))
    held = map_held(seven, OWN)
    assert (held.neck_map, held.trouble.key) == (OWN, "assignment.map_of_other_strings")
    held = map_held(standard_map(tuning=tuning_named("drop-d")), OWN)
    assert (held.neck_map, held.trouble.key) == (OWN, "assignment.map_of_other_tuning")


def test_a_map_never_goes_beyond_the_last_fret_of_the_players_neck():
    short = standard_map(position=1, frets=12)
    held = map_held(standard_map(position=9, frets=24), short)
    assert max(home.place.fret for home in held.neck_map.homes) <= 12
    held = map_held(standard_map(position=20, frets=24), short)
    assert (held.neck_map, held.trouble.key) == (short, "assignment.map_too_high")
