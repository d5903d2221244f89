"""Another map is used, and it is said."""

from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.screens.setup.map_changes import MapChanges
from game.screens.setup.map_shelf import MapShelf
from game.screens.setup.map_uses import keep_change, to_position, use_map


def test_a_map_that_is_used_is_said_and_one_that_is_gone_is(table):
    nine = table.context.session.maps.keep("high up", standard_map(position=9))
    assert use_map(table.context, nine.id)
    assert table.context.settings.position == 9
    assert "high up is in use" in table.context.window.message
    assert not use_map(table.context, "0" * 32)
    assert "no longer kept" in table.context.window.message


def test_the_change_to_a_position_leads_to_the_map_that_is_kept_there_and_says_what_stays(table):
    maps = table.context.session.maps
    nine = maps.keep("high up", standard_map(position=9, choices={73: Place(2, 14)}))
    table.settle(choices={59: (4, 9)})
    changes = MapChanges(table.context.settings, MapShelf((), standard_map()))
    assert to_position(table.context, changes, 7).map_id == ""
    change = to_position(table.context, changes, 9)
    assert (change.map_id, change.settings.choices) == (nine.id, {73: (2, 14)})
    keep_change(table.context, to_position(table.context, changes, 7))
    assert "kept with what you chose" in table.context.window.message
    keep_change(table.context, change)
    assert maps.current.id == nine.id
