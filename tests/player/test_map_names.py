"""A map without a name of its own is called by its position, and no two are called alike."""

from game.music.score import Reading
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import TUNINGS
from game.player.map_facts import KeptMap
from game.player.map_names import name_by_itself, named_maps, told_apart
from game.player.settings import Settings


def test_a_map_is_called_by_its_positions_and_by_what_else_sets_it_apart():
    assert name_by_itself(standard_map()) == "Position V"
    joined = name_by_itself(standard_map(second=SecondRegion(position=9, seam=64)))
    assert "V" in joined
    assert "IX" in joined
    lower = name_by_itself(standard_map(tuning=TUNINGS["drop-d"], reading=Reading.CONCERT))
    assert lower.startswith("Position V, ")
    assert "concert" in lower


def test_maps_of_one_name_are_told_apart_by_a_number_whatever_letters_are_large():
    assert told_apart("Position V", {"position v", "position v (2)"}) == "Position V (3)"
    kept = [KeptMap("a", "", Settings()), KeptMap("b", "", Settings(frets=22))]
    names = [one.name for one in named_maps(kept, kept[0])]
    assert names[0] == "Position V"
    assert names[1] != names[0]


def test_the_map_in_use_comes_last_where_it_is_not_kept():
    kept, in_use = KeptMap("a", "high up", Settings(position=9)), KeptMap("b", "", Settings())
    assert [(one.name, one.kept) for one in named_maps([kept], in_use)] == [("high up", True), ("Position V", False)]


def test_among_maps_of_one_instrument_neither_strings_nor_clef_are_told_and_what_differs_is():
    bass = [standard_map(position=position, tuning=TUNINGS["bass"], reading=Reading.BASS) for position in (5, 9)]
    assert [name_by_itself(one, bass) for one in bass] == ["Position V", "Position IX"]
    assert name_by_itself(bass[0]) == name_by_itself(bass[0], [*bass, standard_map()])
    both = [standard_map(), standard_map(reading=Reading.CONCERT)]
    assert [("," in name_by_itself(one, both)) for one in both] == [False, True]
