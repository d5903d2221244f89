"""Where a guitar is heard and has a pickup, the pickup counts from its first note until it is taken out."""

from game.instrument.decoding.played import NoteRevised, NoteStarted, PedalPressed, PlayedNote
from game.instrument.ports.device_changes import DeviceFound, DeviceLost
from game.instrument.sources.takeover import Takeover, after_change, after_heard, after_pickup
from game.neck.tuning import Place


def picked_up(started_s, source="pickup"):
    note = PlayedNote(started_s=started_s, sounding=52, place=Place(5, 7), source=source)
    return NoteStarted(note=note, channel=5)


def heard(started_s, sounding=52):
    note = PlayedNote(started_s=started_s, sounding=sounding, place=None, source="a card", heard=True)
    return NoteStarted(note=note, channel=1)


def test_while_no_pickup_plays_what_is_heard_goes_on():
    takeover, passed = after_heard(Takeover(), heard(1.0))
    assert passed == (heard(1.0),)
    _, passed = after_pickup(takeover, PedalPressed(1.1))
    assert passed == (PedalPressed(1.1),)


def test_the_first_note_of_a_pickup_takes_over_and_the_same_pluck_does_not_count_twice():
    takeover, _ = after_heard(Takeover(), heard(1.0, sounding=40))
    revised = NoteRevised(before=heard(1.0, sounding=40).note, after=heard(1.0).note, channel=1)
    takeover, _ = after_heard(takeover, revised)
    takeover, passed = after_pickup(takeover, picked_up(1.02))
    assert (passed[0].before, passed[0].after, passed[1]) == (heard(1.0).note, None, picked_up(1.02))
    assert after_heard(takeover, heard(1.5))[1] == ()
    _, passed = after_pickup(takeover, picked_up(2.0))
    assert passed == (picked_up(2.0),)


def test_a_note_heard_before_counts_on():
    takeover, _ = after_heard(Takeover(), heard(1.0))
    assert after_pickup(takeover, picked_up(1.5))[1] == (picked_up(1.5),)


def test_one_that_was_taken_back_is_not_taken_back_again():
    takeover, _ = after_heard(Takeover(), heard(1.0))
    takeover, _ = after_heard(takeover, NoteRevised(before=heard(1.0).note, after=None, channel=1))
    assert after_pickup(takeover, picked_up(1.02))[1] == (picked_up(1.02),)


def test_a_pickup_that_is_taken_out_gives_back():
    takeover, _ = after_pickup(Takeover(), picked_up(1.0))
    assert after_change(takeover, DeviceFound("pickup")) == takeover
    assert after_change(takeover, DeviceLost("keys")) == takeover
    takeover = after_change(takeover, DeviceLost("pickup"))
    assert after_heard(takeover, heard(2.0))[1] == (heard(2.0),)


def test_one_that_was_wired_to_our_port_gives_back_too():
    takeover, _ = after_pickup(Takeover(), picked_up(1.0, source="port Homefret"))
    assert after_change(takeover, DeviceLost("a program", was_playing=True)) == Takeover()
