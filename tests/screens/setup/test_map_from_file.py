"""A map that came in a file is one more among the player's maps, and replaces none."""

import pytest

from game.assignments.map_file import map_text
from game.neck.hand import FrettingHand
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place

HANDED = standard_map(position=7, choices={49: Place(5, 4)}, second=SecondRegion(position=12, seam=69))


@pytest.fixture
def hand_over(table, tmp_path):
    def handed(name, neck_map):
        path = tmp_path / name
        path.write_text(map_text(neck_map), encoding="utf-8")
        table.drop(path)
        return [(one.name, one.neck_map) for one in table.context.session.maps.all]

    return handed


def test_it_is_kept_by_the_name_of_its_file_and_chosen_and_the_map_in_use_stays(table, hand_over):
    maps = hand_over("Anna.toml", HANDED)
    assert maps == [("Position V", standard_map()), ("Anna", HANDED)]
    assert table.screen_name == "MapsScreen"
    assert table.screen.map.name == "Anna"
    assert table.context.settings.neck_map() == standard_map()
    assert "Anna is kept beside your other maps" in table.context.window.message


def test_another_one_of_that_name_gets_a_number_and_the_same_map_is_kept_once(table, hand_over):
    hand_over("Anna.toml", HANDED)
    maps = hand_over("Anna.toml", standard_map(position=9))
    assert [name for name, _ in maps] == ["Position V", "Anna", "Anna (2)"]
    assert len(hand_over("again.toml", HANDED)) == 3
    assert "You keep this map already: Anna." in table.context.window.message
    assert table.screen.map.name == "Anna"


def test_a_file_that_the_game_named_has_the_name_of_its_position(hand_over):
    maps = hand_over("homefret-IX-2.toml", standard_map(position=9))
    assert maps[-1][0] == "Position IX"


def test_it_lies_on_the_player_s_own_neck(table, hand_over):
    maps = hand_over("short.toml", standard_map(position=7, frets=12))
    assert maps[-1] == ("short", standard_map(position=7))
    assert table.context.settings.frets == 22


@pytest.mark.parametrize(
    ("neck_map", "fault"),
    [
        (standard_map(position=25, frets=30), "Position 25 is not on this neck"),
        (standard_map(hand=FrettingHand(span=3)), "The settings know no such hand"),
    ],
)
def test_one_that_the_neck_or_the_settings_have_no_room_for_is_told_and_nothing_is_kept(
    table, hand_over, neck_map, fault
):
    assert [name for name, _ in hand_over("Anna.toml", neck_map)] == ["Position V"]
    assert fault in table.context.window.message


def test_one_edited_into_two_homes_is_told_and_nothing_is_kept(table, tmp_path):
    path = tmp_path / "two.toml"
    home = '[[map.home]]\nwritten = "C#4"\nstring = {}\nfret = {}\n'
    path.write_text("[map]\n" + home.format(5, 4) + home.format(6, 9), encoding="utf-8")
    table.drop(path)
    assert "C#4 has a home already" in table.context.window.message
    assert len(table.context.session.maps.all) == 1
