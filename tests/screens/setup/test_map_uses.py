"""Another map is used, and it is said."""

from game.neck.neck_map import standard_map
from game.screens.setup.map_uses import use_map


def test_a_map_that_is_used_is_said_and_one_that_is_gone_is(table):
    nine = table.context.session.maps.keep("high up", standard_map(position=9))
    assert use_map(table.context, nine.id)
    assert table.context.settings.position == 9
    assert "high up is in use" in table.context.window.message
    assert not use_map(table.context, "0" * 32)
    assert "no longer kept" in table.context.window.message
