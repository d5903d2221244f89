"""What is seen of the map: of the player's and of another one, before a change and with it."""

from dataclasses import replace

import pytest

from game.neck.neck_map import standard_map
from game.screens.setup.map_changes import MapChanges
from game.screens.setup.map_choice import LookedAt
from game.screens.setup.shown_map import ShownMap

NINTH = standard_map(position=9)


@pytest.fixture
def shown(table):
    return ShownMap(table.context)


def test_nothing_is_looked_at_or_asked_or_was_changed_at_first(shown, table):
    assert (shown.looked, shown.asked, shown.best, shown.more, shown.before) == (None, None, None, False, None)
    assert shown.neck_map == table.context.settings.neck_map()


def test_the_sheet_is_of_the_players_map_or_of_another_one_as_it_is_looked_at(shown):
    shown.looked, shown.more = LookedAt(59), True
    assert shown.sheet(600).neck_map == shown.neck_map != NINTH
    other = shown.sheet(580, NINTH)
    assert (other.neck_map, other.looked, other.more, other.foot) == (NINTH, LookedAt(59), True, 580)
    assert {one.sounding for one in other.ink.pitches} == {home.sounding for home in NINTH.homes}


def test_what_a_change_means_is_told_before_it_is_made_and_afterwards(shown, table):
    shown.asked = MapChanges(table.context.settings, shown.shelf).stretches()
    now, then = shown.asked_figures
    assert now.stretches > then.stretches == 0
    before = table.context.settings
    table.settle(stretches=shown.asked.settings.stretches)
    shown.asked, shown.settled_before = None, before
    assert shown.before == now
    assert shown.asked_figures == (then, then)


def test_what_was_read_since_is_seen_once_it_is_read_anew(shown, table, monkeypatch):
    before = shown.sheet(600).ink
    later = replace(before)
    monkeypatch.setattr(table.context.session.notes, "ink", lambda _: later)
    assert shown.sheet(600).ink is before
    shown.read_anew()
    assert shown.sheet(600).ink is later
