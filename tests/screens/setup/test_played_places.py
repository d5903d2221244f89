"""A map written by playing it once, as hands and pickups really play it."""

from random import Random

import pytest

from game.instrument.decoding.instrument_state import hear, initial_state
from game.instrument.decoding.played import NoteRevised, NoteStarted, PlayedNote
from game.instrument.decoding.strings_setup import StringsSetup
from game.neck.hand import UNSTRETCHED
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, TUNINGS, Place
from game.screens.setup.played_places import PlayedPlaces, written_map
from tests.instrument.pickup_faults import Fault
from tests.instrument.pickup_simulator import Pickup, stream

# Standard tuning: the open strings sound 64 59 55 50 45 40 (trade).
FIVE = standard_map(position=5)


def note(string, fret, at_s, tuning=STANDARD, **changes):
    place = Place(string, fret)
    return PlayedNote(**({"started_s": at_s, "sounding": tuning.sounding(place), "place": place} | changes))


def played(*places, tuning=STANDARD):
    """These places one after the other, half a second apart."""
    told = PlayedPlaces(tuning)
    for number, (string, fret) in enumerate(places):
        told = told.hear(note(string, fret, 0.5 * number, tuning))
    return told


def test_each_played_place_is_the_home_of_its_pitch_in_whatever_order():
    assert played((6, 5), (6, 8), (5, 5), (6, 4)).homes == {
        45: Place(6, 5),
        48: Place(6, 8),
        50: Place(5, 5),
        44: Place(6, 4),
    }


def test_a_pitch_played_again_elsewhere_moves_there_and_the_same_note_twice_is_one():
    moved = played((3, 4), (3, 4), (2, 5), (4, 9))
    assert moved.homes == {59: Place(4, 9), 64: Place(2, 5)}
    assert moved.newest == Place(4, 9)
    assert moved.take_back().homes == {59: Place(3, 4), 64: Place(2, 5)}
    assert moved.take_back().take_back().homes == {59: Place(3, 4)}
    assert moved.take_back().take_back().take_back().take_back().homes == {}


def test_a_doubled_note_is_taken_back_at_once_with_the_one_it_doubles():
    """Pickups tell a note twice now and then."""
    told = played((6, 5), (6, 7))
    told = told.hear(note(6, 7, 0.53))
    assert told.take_back().homes == {45: Place(6, 5)}


def test_a_ghost_that_is_withdrawn_leaves_no_trace_and_what_it_moved_is_back():
    ghost = note(4, 9, 2.0)
    told = played((3, 4)).hear(ghost)
    assert told.homes == {59: Place(4, 9)}
    assert told.revise(ghost, None).homes == {59: Place(3, 4)}
    assert told.revise(note(1, 1, 9.0), None) == told


def test_an_octave_flicker_that_is_put_right_is_the_note_that_was_played():
    flicker = note(6, 17, 1.0)
    told = played((6, 3)).hear(flicker).revise(flicker, note(6, 5, 1.0, arrived_s=1.03))
    assert told.homes == {43: Place(6, 3), 45: Place(6, 5)}


def test_a_slide_into_a_place_is_that_place_and_a_bend_later_is_no_home():
    slid = note(3, 4, 1.0)
    told = PlayedPlaces(STANDARD).hear(slid)
    assert told.revise(slid, note(3, 5, 1.0, arrived_s=1.15)).homes == {60: Place(3, 5)}
    assert told.revise(slid, note(3, 6, 1.0, arrived_s=1.6)).homes == {59: Place(3, 4)}


def test_what_turns_out_to_lie_beyond_the_neck_is_no_home():
    slid = note(1, 21, 1.0)
    told = PlayedPlaces(STANDARD).hear(slid)
    assert told.revise(slid, note(1, 21, 1.0, place=None, sounding=90)).homes == {}


@pytest.mark.parametrize("apart_s", [0.0, 0.02, 0.035])
def test_of_notes_plucked_together_none_is_a_home(apart_s):
    chord = played((6, 5)).hear(note(5, 7, 3.0)).hear(note(4, 7, 3.0 + apart_s)).hear(note(3, 6, 3.0 + 2 * apart_s))
    assert chord.homes == {45: Place(6, 5)}
    assert chord.ends_in_chord
    on = chord.hear(note(5, 7, 4.0))
    assert (set(on.homes), on.ends_in_chord) == ({45, 52}, False)


def test_a_string_that_only_rang_along_spoils_no_note_once_it_is_withdrawn():
    ringing = note(5, 0, 3.01)
    told = PlayedPlaces(STANDARD).hear(note(4, 7, 3.0)).hear(ringing)
    assert told.homes == {}
    assert told.revise(ringing, None).homes == {57: Place(4, 7)}


def test_quick_notes_of_one_string_are_no_chord():
    told = PlayedPlaces(STANDARD).hear(note(3, 4, 1.0)).hear(note(3, 5, 1.03))
    assert set(told.homes) == {59, 60}


def test_the_open_lowest_string_takes_back_once_something_is_written():
    told = played((6, 5), (6, 7), (6, 0))
    assert told.homes == {45: Place(6, 5)}
    twice = told.hear(note(6, 0, 1.05))
    assert twice.homes == told.homes
    assert told.hear(note(6, 0, 1.7)).homes == {}


def test_whoever_begins_with_the_open_lowest_string_means_it():
    told = played((6, 0), (6, 1), (6, 3), (5, 0), (6, 0))
    assert set(told.homes) == {40, 41, 43, 45}
    assert told.free is None
    assert played((6, 5)).free == Place(6, 0)


def test_a_taking_back_that_nobody_plucked_is_undone():
    ghost = note(6, 0, 2.0)
    told = played((6, 5), (6, 7)).hear(ghost)
    assert set(told.homes) == {45}
    assert set(told.revise(ghost, None).homes) == {45, 47}


def test_a_note_without_a_place_is_none():
    heard = PlayedNote(started_s=1.0, sounding=60, place=None, heard=True)
    assert PlayedPlaces(STANDARD).hear(heard).homes == {}


@pytest.mark.parametrize("position", [1, 2, 5, 9, 12])
def test_a_whole_position_that_is_played_is_that_position_and_nothing_is_chosen(position):
    whole = standard_map(position=position)
    written = written_map(whole.places, FIVE)
    assert (written.neck_map, written.outlying, written.filled, written.missing) == (whole, (), (), ())


def test_the_position_is_that_which_takes_most_homes_and_what_it_lacks_is_chosen():
    homes = standard_map(position=7).places | {59: Place(3, 4), 76: Place(1, 12)}
    written = written_map(homes, FIVE)
    assert written.neck_map.position == 7
    assert written.neck_map.choices == {59: Place(3, 4), 76: Place(1, 12)}
    assert written.outlying == (59, 76)
    assert written.neck_map.places == homes


def test_notes_between_that_were_not_played_keep_the_homes_of_the_position_and_gaps_are_told():
    five = standard_map(position=5, hand=UNSTRETCHED)
    homes = {45: Place(6, 5), 57: Place(4, 7), 72: Place(1, 8)}
    written = written_map(homes, five)
    assert written.neck_map.position == 5
    assert set(written.filled) == set(five.places) & set(range(45, 73)) - set(homes)
    assert set(written.missing) == set(range(45, 73)) - set(five.places)
    assert written.missing


def test_hand_tuning_frets_and_octave_are_those_of_the_map_before():
    like = standard_map(position=3, tuning=TUNINGS["dadgad"], frets=24, hand=UNSTRETCHED)
    written = written_map(played((6, 7), (5, 7), (1, 10), tuning=TUNINGS["dadgad"]).homes, like)
    same = ("tuning", "frets", "hand", "reading")
    assert all(getattr(written.neck_map, one) == getattr(like, one) for one in same)
    assert written.neck_map.position == 7


@pytest.mark.parametrize(
    "fault", [Fault.LATE_OCTAVE, Fault.DOUBLED, Fault.CROSS_TALK, Fault.SLIDE_BY_BEND, Fault.FLICKER]
)
def test_what_a_pickup_makes_of_a_map_comes_to_the_map_that_was_played(fault):
    """Each fault at every third note (`tests.instrument.pickup_simulator`)."""
    notes = [note(home.place.string, home.place.fret, 1 + 0.6 * number) for number, home in enumerate(FIVE.homes)]
    told, state = PlayedPlaces(STANDARD), initial_state(StringsSetup())
    for message in stream(Pickup(shares={fault: 1 / 3}), notes, Random(7)):
        state, events = hear(state, message)
        for event in events:
            if isinstance(event, NoteStarted):
                told = told.hear(event.note)
            elif isinstance(event, NoteRevised):
                told = told.revise(event.before, event.after)
    assert told.homes == FIVE.places


def test_a_place_that_is_told_late_is_written_where_its_note_was_played():
    """A guess an octave too low lies below its string at first."""
    low = note(4, 7, 1.0, place=None, sounding=45)
    told = PlayedPlaces(STANDARD).hear(low).hear(note(4, 8, 1.5))
    found = told.revise(low, note(4, 7, 1.0))
    assert found.written == (Place(4, 7), Place(4, 8))
