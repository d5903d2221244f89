"""A map goes into settings and comes out of them as it was."""

import pytest

from game.errors import MapError
from game.music.score import Reading
from game.neck.hand import UNSTRETCHED, FrettingHand
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS, Place
from game.player.map_facts import MapFacts, id_of_position, kept_content
from game.player.map_settings import ground_of, is_changed_by_hand, map_in_use, map_part, over_with, settings_with
from game.player.settings import Settings

MADE = standard_map(
    position=7,
    tuning=TUNINGS["drop-d"],
    frets=22,
    reading=Reading.CONCERT,
    choices={59: Place(4, 9)},
    hand=UNSTRETCHED,
    second=SecondRegion(position=12, seam=69),
)


def test_every_part_of_a_map_is_in_the_settings_that_have_it_and_nothing_else_is_changed():
    settings = settings_with(Settings(volume=0.2), MADE)
    assert settings.neck_map() == MADE
    assert settings.volume == 0.2
    assert map_part(over_with(Settings(), settings)) == map_part(settings)


def test_a_hand_that_no_setting_tells_of_is_refused():
    with pytest.raises(MapError):
        settings_with(Settings(), standard_map(hand=FrettingHand(span=5)))


def test_a_home_or_a_region_by_hand_is_a_change_and_leaves_the_ground_the_same():
    settings = settings_with(Settings(), MADE)
    assert is_changed_by_hand(settings)
    assert not is_changed_by_hand(Settings(position=9, open_strings=True))
    assert ground_of(MADE) == ground_of(MADE.remade(choices={}, second=None))
    assert ground_of(MADE) != ground_of(standard_map(position=8))


def test_of_kept_maps_that_are_alike_the_one_used_last_is_in_use_and_else_the_position_has_an_id():
    facts, settings = MapFacts(), Settings()
    ids = ["a" * 32, "b" * 32]
    for map_id in ids:
        facts.hear(kept_content(map_id, "", settings))
    facts.hear({"map": ids[0], "used": True})
    assert map_in_use(facts, settings).id == ids[0]
    other = Settings(position=9)
    assert map_in_use(facts, other).id == id_of_position(other.neck_map())


def test_a_map_used_behind_a_capo_leaves_the_neck_as_long_as_it_is():
    settings = Settings(capo=3)
    again = settings_with(settings, settings.neck_map())
    assert again == settings
    assert settings_with(again, again.neck_map()).frets == 22
