"""From one map to the next the name of a note carries over, and a home that is the same on both."""

from game.coach.notes.carried_over import expected_find_s, items_on, known_letters, most_new_a_day
from game.coach.notes.items import map_name
from game.coach.notes.new_notes import notes_to_meet
from game.coach.notes.weights import items_by_pitch, pitch_weights
from game.coach.numbers import NUMBERS
from game.music.score import Reading
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place
from tests.coach.judged_takes import MAP, after, judged
from tests.coach.notes.test_fluent_map import QUICK, key_at, known

NINE = standard_map(position=9)
ALL_OF_V = known().items


def test_with_one_map_nothing_is_carried():
    assert items_on(ALL_OF_V, MAP) is ALL_OF_V
    assert known_letters(ALL_OF_V, MAP) == frozenset()
    assert most_new_a_day(ALL_OF_V, MAP) == NUMBERS.new_a_day


def test_a_home_at_the_same_place_is_known_on_the_next_map_and_every_other_is_to_be_met():
    same = {sounding for sounding, place in NINE.places.items() if MAP.places.get(sounding) == place}
    assert same, "where the fourth finger of V reaches on, the first one of IX reaches back"
    met = items_by_pitch(ALL_OF_V, NINE)
    assert met.keys() == same
    assert set(notes_to_meet(ALL_OF_V, NINE)).isdisjoint(same)


def test_what_was_read_on_this_map_counts_before_what_is_carried():
    slow = QUICK._replace(mean_log_s=1.0)
    sounding = next(iter(items_by_pitch(ALL_OF_V, NINE)))
    items = {**ALL_OF_V, key_at(NINE, sounding): slow}
    assert items_on(items, NINE)[key_at(NINE, sounding)] == slow


def test_other_strings_and_another_octave_carry_no_places():
    for other in (standard_map(tuning=TUNINGS["half-step-down"]), standard_map(reading=Reading.CONCERT)):
        assert not items_by_pitch(ALL_OF_V, other)


def test_a_joined_map_knows_both_regions_that_were_learned_alone():
    joined = standard_map(second=SecondRegion(position=9, seam=66))
    both = {**ALL_OF_V, **known(NINE).items}
    assert items_by_pitch(both, joined).keys() == joined.places.keys()
    only_v = items_by_pitch(ALL_OF_V, joined).keys()
    assert {sounding for sounding, place in joined.places.items() if place.fret < 8} <= only_v < joined.places.keys()


def test_two_maps_of_one_position_share_all_homes_but_the_one_that_was_moved():
    moved = standard_map(choices={64: Place(3, 9)})
    assert map_name(moved) == map_name(MAP)
    assert set(moved.places) - items_by_pitch(ALL_OF_V, moved).keys() == {64}


def test_a_letter_read_on_one_map_is_known_on_the_next_and_its_place_is_not():
    items = after(*(judged("F4 G4 A4", day=day) for day in (1, 2, 3)))
    letters = known_letters(items, NINE)
    assert letters == {55, 57}, "the F lies at the same place on both"
    assert not items_by_pitch(items, NINE).keys() & letters


def test_a_letter_read_seldom_is_not_known():
    assert not known_letters(after(judged("F4 G4 A4")), NINE)


def test_a_note_with_a_known_letter_is_thought_to_be_found_sooner_than_by_a_newcomer():
    at_first = expected_find_s({}, NINE)
    with_letters = expected_find_s(ALL_OF_V, NINE)
    letters = known_letters(ALL_OF_V, NINE)
    for sounding in NINE.places:
        share = NUMBERS.known_letter_find if sounding in letters else 1.0
        assert with_letters[sounding] == share * at_first[sounding]


def test_how_fast_notes_are_found_on_a_fluent_map_says_nothing_of_the_next_ones_places():
    quick = {key: item._replace(mean_log_s=-1.2) for key, item in ALL_OF_V.items()}
    assert expected_find_s(quick, NINE) == expected_find_s(ALL_OF_V, NINE)


def test_notes_with_unknown_letters_come_up_more_than_those_whose_letters_are_known():
    weights = pitch_weights(ALL_OF_V, NINE)
    letters = known_letters(ALL_OF_V, NINE)
    unknown = NINE.places.keys() - letters - items_by_pitch(ALL_OF_V, NINE).keys()
    assert letters
    assert unknown
    assert max(weights[sounding] for sounding in letters) < min(weights[sounding] for sounding in unknown)


def test_more_notes_are_met_in_a_day_where_most_letters_are_known():
    assert len(notes_to_meet({}, NINE)) == NUMBERS.new_a_day
    assert len(notes_to_meet(ALL_OF_V, NINE)) == NUMBERS.new_a_day_known_letters
