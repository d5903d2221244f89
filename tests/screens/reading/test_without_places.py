"""What is said where an instrument tells no places."""

from dataclasses import replace

from game.instrument.decoding.played import PlayedNote
from game.screens.devices import StaticInstruments
from game.screens.reading.without_places import tell_of_places, tell_what_is_heard
from tests.screens.heard_guitar import HeardGuitar

NOTE = PlayedNote(started_s=1.0, sounding=53, place=None, source="a keyboard")


def said(table, tell, *arguments):
    table.context.window.message_until_s = 0.0
    table.context.window.message = ""
    tell(table.context, *arguments)
    return table.context.window.message


def test_it_is_said_once(table):
    assert "does not report strings" in said(table, tell_of_places, NOTE)
    assert said(table, tell_of_places, NOTE) == ""
    assert said(table, tell_of_places, replace(NOTE, source="another")) == ""
    assert said(table, tell_what_is_heard) == ""


def test_one_who_is_heard_is_told_before_a_take_once_the_input_is_there(table):
    HeardGuitar(table)
    table.context.devices.instruments = StaticInstruments(present=False)
    assert said(table, tell_what_is_heard) == ""
    HeardGuitar(table)
    assert "not the place" in said(table, tell_what_is_heard)
    assert said(table, tell_what_is_heard) == ""


def test_nothing_is_said_over_something_else(table):
    HeardGuitar(table)
    table.context.say("something else")
    tell_what_is_heard(table.context)
    assert table.context.window.message == "something else"
    assert "not the place" in said(table, tell_what_is_heard)
