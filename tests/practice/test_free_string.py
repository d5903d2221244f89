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
