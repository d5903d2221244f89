"""Esc leads back to the place one came from, and in the end to Today."""

from game.screens.routes import (
    ToBook,
    ToFreshLine,
    ToFromPaper,
    ToInstruments,
    ToMap,
    ToPlacing,
    ToProgress,
    ToSettings,
    ToSetUp,
    ToToday,
)
from game.screens.ways_back import WaysBack


def gone(*routes):
    ways = WaysBack()
    for route in routes:
        ways = ways.gone(route)
    return ways.back


def test_from_a_tab_esc_leads_to_today_however_many_tabs_were_looked_at():
    assert gone(ToProgress(), ToMap(), ToBook()) == ToToday()


def test_from_a_place_behind_a_tab_esc_leads_to_the_tab():
    assert gone(ToSettings(), ToInstruments()) == ToSettings()
    assert gone(ToSettings(), ToInstruments(), ToSetUp("pickup")) == ToInstruments()


def test_who_went_back_goes_back_farther_the_next_time():
    assert gone(ToSettings(), ToInstruments(), ToSetUp("pickup"), ToInstruments()) == ToSettings()


def test_out_of_a_take_esc_leads_to_where_it_was_begun():
    assert gone(ToFreshLine()) == ToToday()
    assert gone(ToBook(), ToFreshLine(), ToPlacing()) == ToBook()
    assert gone(ToBook(), ToFromPaper(), ToFreshLine()) == ToFromPaper()


def test_on_today_nothing_lies_behind():
    assert gone(ToToday()) == ToToday()
    assert gone(ToSettings(), ToInstruments(), ToToday()) == ToToday()
