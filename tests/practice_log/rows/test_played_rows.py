"""What was done in a take as it came, into the log and back."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.played import PlayedNote
from game.neck.tuning import Place
from game.practice_log.rows.played_rows import put_played, raw_take, revise_played
from game.practice_log.rows.take_rows import put_take
from tests.practice_log.logged_takes import DEVICE, begun
from tests.practice_log.strategies import NOTES


@given(notes=NOTES)
def test_played_notes_come_back_in_the_order_in_which_they_came(log, notes):
    number = put_take(log, begun(), DEVICE)
    for note in notes:
        put_played(log, number, note)
    assert raw_take(log, number).played == notes


@given(notes=NOTES, drawn=st.data())
def test_a_note_that_turned_out_to_be_another_comes_back_as_that_and_one_nobody_played_not_at_all(log, notes, drawn):
    number = put_take(log, begun(), DEVICE)
    for note in notes:
        put_played(log, number, note)
    came = list(notes)
    for note in notes:
        after = drawn.draw(
            st.sampled_from([note, None, replace(note, sounding=(note.sounding + 1) % 128, sure=not note.sure)])
        )
        revise_played(log, number, note, after)
        at = came.index(note)
        came[at : at + 1] = [after] if after else []
    assert raw_take(log, number).played == tuple(came)


def test_a_note_that_never_came_is_not_revised(log):
    number = put_take(log, begun(), DEVICE)
    here, never = PlayedNote(started_s=1.0, sounding=53, place=None), PlayedNote(started_s=2.0, sounding=53, place=None)
    put_played(log, number, here)
    revise_played(log, number, never, None)
    assert raw_take(log, number).played == (here,)


def test_when_a_slide_arrived_is_kept(log):
    number = put_take(log, begun(), DEVICE)
    slide = PlayedNote(started_s=1.0, sounding=55, place=Place(5, 10), arrived_s=1.125)
    put_played(log, number, slide)
    assert raw_take(log, number).played == (slide,)


def test_a_note_that_could_not_be_told_may_turn_out_to_be_sure(log):
    number = put_take(log, begun(), DEVICE)
    doubtful = PlayedNote(started_s=1.0, sounding=65, place=None, sure=False)
    put_played(log, number, doubtful)
    assert raw_take(log, number).played == (doubtful,)
    sure = replace(doubtful, sounding=53, sure=True)
    revise_played(log, number, doubtful, sure)
    assert raw_take(log, number).played == (sure,)
