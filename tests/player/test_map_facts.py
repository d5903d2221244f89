"""What is said of maps in a log, and what it comes to, whatever stands there."""

import pytest

from game.neck.neck_map import standard_map
from game.player.map_facts import LONGEST_MAP_NAME, MOST_MAPS, MapFacts, id_of_position, kept_content
from game.player.settings import Settings, Stretches

# Standard tuning: B3 (59) lies on string 3 at fret 4 and on string 4 at fret 9 (calc).
B3 = 59
ONE, TWO = "1" * 32, "2" * 32


def heard(*contents):
    facts = MapFacts()
    for content in contents:
        facts.hear(content)
    return facts


def test_a_map_is_kept_with_everything_it_is_made_of():
    made = Settings(position=7, stretches=Stretches.NONE, open_strings=True, second=(12, 67), choices={B3: (4, 9)})
    (found,) = heard(kept_content(ONE, "for small hands", made)).maps
    assert (found.id, found.name, found.settings) == (ONE, "for small hands", made)


def test_two_homes_moved_on_two_computers_both_hold_in_either_order():
    kept = kept_content(ONE, "", Settings())
    moved = [
        {"map": ONE, "word": {"name": "choices", "sounding": sounding, "place": place}}
        for sounding, place in ((B3, [4, 9]), (60, [4, 10]))
    ]
    both = {B3: (4, 9), 60: (4, 10)}
    assert [heard(kept, *order).maps[0].settings.choices for order in (moved, moved[::-1])] == [both, both]


def test_a_map_that_was_withdrawn_comes_back_with_whatever_is_said_of_it_later():
    kept, gone = kept_content(ONE, "stage", Settings(position=9)), {"map": ONE, "withdrawn": True}
    assert heard(kept, gone).maps == ()
    (back,) = heard(kept, gone, {"map": ONE, "name": "on stage"}).maps
    assert (back.name, back.settings.position) == ("on stage", 9)
    assert heard(kept, gone, {"map": ONE, "used": True}).maps[0].name == "stage"


def test_the_map_used_last_stands_at_the_end():
    used = [{"map": one, "used": True} for one in (ONE, TWO, ONE)]
    assert heard(*used).used == (TWO, ONE)


@pytest.mark.parametrize(
    "content",
    [
        {},
        {"map": 5, "name": "x"},
        {"map": "../../etc", "name": "x"},
        {"map": TWO},
        {"map": TWO, "is": "position V"},
        {"map": TWO, "is": [1, 2]},
        {"map": TWO, "name": 7},
        {"map": TWO, "word": {"name": ["position"], "value": 3}},
        {"map": TWO, "word": {"name": "volume", "value": 0.2}},
        {"map": TWO, "word": {"name": "position"}},
        {"map": TWO, "withdrawn": "yes"},
        {"map": TWO, "used": 1},
        {"map": TWO, "rhythm": {"of a newer program": True}},
    ],
)
def test_what_makes_no_sense_is_passed_over_and_no_map_is_made_of_it(content):
    facts = heard(kept_content(ONE, "mine", Settings()), content, {"map": ONE, "used": True})
    assert [(one.id, one.name) for one in facts.maps] == [(ONE, "mine")]
    assert facts.used == (ONE,)


def test_a_map_out_of_bounds_is_put_right_as_the_settings_are():
    wild = {
        "position": 400,
        "frets": 12,
        "tuning": "piano",
        "choices": {str(B3): [4, 9], "60": [1, 1], "x": 3},
        "second": [1, 2, 3],
        "stretches": "far",
    }
    (found,) = heard({"map": ONE, "is": wild}).maps
    assert found.settings == Settings(frets=12)
    steep = {"position": 20, "frets": 12, "choices": {str(B3): [4, 9], "60": [1, 1]}}
    (found,) = heard({"map": ONE, "is": steep}).maps
    assert (found.settings.position, found.settings.choices) == (9, {B3: (4, 9)})
    assert found.settings.neck_map().home_of(B3).place.fret == 9


def test_a_name_is_cleaned_and_cut():
    (found,) = heard(kept_content(ONE, "a\u202e\nb" + 100 * "c", Settings())).maps
    assert len(found.name) == LONGEST_MAP_NAME
    assert found.name.startswith("a bcc")


def test_a_log_that_names_maps_without_end_makes_no_more_than_there_may_be():
    facts = heard(*(kept_content(f"{number:032x}", "", Settings()) for number in range(MOST_MAPS + 50)))
    assert len(facts.maps) == MOST_MAPS


def test_the_first_map_of_a_position_has_the_same_id_on_each_computer_and_another_elsewhere():
    five = standard_map(position=5)
    assert id_of_position(five) == id_of_position(five.with_choice(five.tuning.places_of(B3, 22)[1]))
    assert id_of_position(five) != id_of_position(standard_map(position=7))
    assert len(id_of_position(five)) == 32
