"""Commands from the guitar alone."""

import pytest

from game.instrument.decoding.played import PlayedNote
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice.free_string import FreeString, Plucks, is_free_string, plucked, settled

MAP = standard_map()


def meant(*times_s, now_s):
    plucks = Plucks()
    for at_s in times_s:
        plucks = plucked(plucks, at_s)
    return settled(plucks, now_s)[1]


def test_the_open_sixth_string_is_free_in_position_v_and_a_home_is_not():
    assert is_free_string(PlayedNote(started_s=0, sounding=40, place=Place(6, 0)), MAP)
    assert is_free_string(PlayedNote(started_s=0, sounding=40, place=None), MAP)
    assert not is_free_string(PlayedNote(started_s=0, sounding=45, place=Place(6, 5)), MAP)


def test_where_every_open_string_has_a_home_nothing_is_free():
    low = standard_map(position=1)
    assert low.free_string is None
    assert not is_free_string(PlayedNote(started_s=0, sounding=40, place=Place(6, 0)), low)


@pytest.mark.parametrize(
    ("times_s", "count"),
    [((1.0,), 1), ((1.0, 1.4), 2), ((1.0, 1.4, 1.9), 3), ((1.0, 1.2, 1.4, 1.6), 3), ((1.0, 3.0), 1)],
)
def test_plucks_that_come_together_are_one_command(times_s, count):
    assert meant(*times_s, now_s=times_s[-1] + 0.7) == count


def test_nothing_is_meant_before_the_string_has_been_left_alone():
    assert meant(1.0, now_s=1.3) == 0
    assert meant(now_s=5.0) == 0


def test_a_command_is_given_once():
    plucks, count = settled(plucked(Plucks(), 1.0), 2.0)
    assert count == 1
    assert settled(plucks, 3.0)[1] == 0


FREE = PlayedNote(started_s=1.0, sounding=40, place=Place(6, 0))
HOME = PlayedNote(started_s=1.2, sounding=45, place=Place(6, 5))


def test_a_note_of_the_free_string_answers_nothing_and_any_other_is_no_command():
    string = FreeString()
    assert string.hear_note(FREE, MAP)
    assert not string.hear_note(HOME, MAP)
    assert [string.command_by(now_s) for now_s in (1.5, 1.7, 2.0)] == [0, 1, 0]


def test_a_pedal_counts_as_a_pluck():
    string = FreeString()
    string.hear_note(FREE, MAP)
    string.hear_pedal(1.4)
    assert string.command_by(2.1) == 2


def test_a_pluck_that_turns_out_to_be_another_note_does_not_count():
    string = FreeString()
    string.hear_note(FREE, MAP)
    string.revise(FREE, HOME, MAP)
    assert string.command_by(3.0) == 0
    string.hear_note(FREE, MAP)
    string.revise(FREE, FREE, MAP)
    string.revise(HOME, None, MAP)
    assert string.command_by(3.0) == 1


def heard(sounding, at_s, **changes):
    return PlayedNote(started_s=at_s, sounding=sounding, place=None, heard=True, source="microphone", **changes)


def meant_by_sound(*notes, now_s, written=()):
    string = FreeString(written)
    for note in notes:
        string.hear_note(note, MAP)
    return string.command_by(now_s)


@pytest.mark.parametrize(
    ("notes", "count"),
    [
        ((heard(40, 1.0),), 1),
        ((heard(40, 1.0), heard(40, 1.85)), 2),
        ((heard(40, 1.0), heard(40, 1.4), heard(40, 1.9)), 3),
        ((heard(40, 1.0), heard(40, 1.08)), 1),
        ((heard(40, 1.0, sure=False),), 0),
        ((heard(40, 1.0), heard(40, 1.4, sure=False)), 2),
        ((heard(40, 1.0, sure=False), heard(40, 1.4, sure=False)), 0),
        ((heard(57, 0.7), heard(40, 1.0)), 0),
        ((heard(57, 0.4), heard(40, 1.0)), 1),
        ((heard(40, 1.0), heard(57, 1.5)), 0),
        ((heard(40, 1.0), heard(40, 1.4), heard(57, 1.9)), 0),
        ((heard(40, 1.0), heard(40, 1.4), heard(52, 2.1)), 2),
    ],
    ids=[
        "once",
        "twice, the second heard late",
        "three times",
        "one pluck told twice",
        "not heard surely",
        "twice, struck again while it rings",
        "twice not heard surely",
        "rings along with the note before",
        "some time after a note",
        "touched in a line",
        "touched twice in a line",
        "its octave outlasts the rest",
    ],
)
def test_what_is_only_heard_commands_where_it_stands_alone(notes, count):
    last_s = max(note.started_s for note in notes if note.sounding != 52)
    assert meant_by_sound(*notes, now_s=last_s + 1.0) == count
    assert meant_by_sound(*notes, now_s=last_s + 0.8) == 0


def test_a_string_that_the_music_asks_for_is_not_free():
    assert meant_by_sound(heard(40, 1.0), now_s=3.0, written=frozenset({40, 45})) == 0
    assert not FreeString(frozenset({40})).hear_note(FREE, MAP)


def test_what_turns_out_to_have_been_the_free_string_counts_and_the_other_way_about():
    string = FreeString()
    string.hear_note(heard(52, 1.0), MAP)
    string.revise(heard(52, 1.0), heard(40, 1.01), MAP)
    assert string.command_by(3.0) == 1
    string.hear_note(heard(40, 5.0, sure=False), MAP)
    string.revise(heard(40, 5.0, sure=False), heard(40, 5.0), MAP)
    assert string.command_by(7.0) == 1
    string.hear_note(heard(40, 9.0), MAP)
    string.revise(heard(40, 9.0), heard(52, 9.0), MAP)
    assert string.command_by(11.0) == 0


def test_a_note_that_rings_while_the_string_is_plucked_and_is_told_of_anew_takes_nothing_back():
    string = FreeString()
    string.hear_note(heard(57, 1.0), MAP)
    string.hear_note(heard(40, 2.0), MAP)
    string.revise(heard(57, 1.0), heard(57, 1.0, velocity=30), MAP)
    assert string.command_by(3.0) == 1
