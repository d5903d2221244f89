"""The player's maps as practice sees them: the one of the settings is their own, the kept ones are the others."""

from game.neck.neck_map import standard_map


def test_the_map_of_the_settings_is_their_own_and_at_first_nothing_of_it_is_met(table):
    maps = table.context.session.plan.known.maps
    assert maps.own.neck_map == table.context.settings.neck_map()
    assert len(maps.fluency.not_met) == maps.fluency.homes == 30
    assert not maps.fluency.fluent
    assert maps.cost_of_mixing is None


def test_a_map_that_is_kept_is_another_one_and_not_fluent_before_it_is_read(table):
    session = table.context.session
    session.maps.keep("high up", standard_map(position=9))
    maps = session.plan.known.maps
    assert [(one.name, fluency.fluent) for one, fluency in maps.others] == [("high up", False)]
    assert maps.fluent_others == ()
