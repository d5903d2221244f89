"""Where a take against the click begins, and what begins it."""

from dataclasses import replace

import pytest

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from game.practice.starting_bar import StartingBar
from game.practice.take_request import request_for
from game.practice.timed_take import TimedTake, TimedTerms
from tests.made import score

REQUEST = request_for(score("F4 q, G4 q", "A4 w", "C5 w"), standard_map()).in_stage(Stage.TIME)
F4, A4 = 53, 57


def take_of(request=REQUEST):
    terms = TimedTerms(stage=request.stage, tempo_bpm=60.0)
    return TimedTake(request.passage, request.neck_map, terms)


def begins(start, sounding, place=None):
    return start.is_begun_by(PlayedNote(started_s=0.0, sounding=sounding, place=place), take_of(start.request).expected)


def test_at_first_it_is_the_beginning():
    start = StartingBar(REQUEST)
    assert (start.index, start.number, start.quarters) == (0, "1", 0.0)


def test_a_later_bar_lies_as_far_on_as_those_before_it_are_long():
    start = StartingBar(REQUEST).at(2)
    assert (start.number, start.quarters) == ("3", 6.0)


@pytest.mark.parametrize(("asked", "index"), [(-2, 0), (1, 1), (7, 2)])
def test_a_bar_outside_of_the_passage_is_its_first_or_last(asked, index):
    assert StartingBar(REQUEST).at(asked).index == index


def test_where_each_note_has_a_click_it_begins_again():
    assert StartingBar(replace(REQUEST, tempo_bpm=60, one_a_click=True)).at(2).index == 0


def test_the_first_note_from_the_bar_on_begins_it_and_no_other():
    start = StartingBar(REQUEST)
    assert [begins(start, sounding) for sounding in (F4, A4)] == [True, False]
    assert [begins(start.at(1), sounding) for sounding in (F4, A4)] == [False, True]


def test_the_right_pitch_away_from_its_home_does_not_begin_it():
    start, home = StartingBar(REQUEST), REQUEST.neck_map.home_of(F4).place
    assert begins(start, F4, home)
    assert not begins(start, F4, Place(home.string - 1, home.fret - 5))


def test_in_rhythm_any_note_begins_it():
    assert begins(StartingBar(REQUEST.in_stage(Stage.RHYTHM)), 40)


def count_in(start, at_s, **changes):
    take = take_of()
    take.start(100.0)
    note = PlayedNote(**{"started_s": 100.0 + at_s, "sounding": F4, "place": None, "heard": True, **changes})
    return start.is_count_in(note, take)


@pytest.mark.parametrize(("at_s", "is_count_in"), [(-2.0, True), (-0.41, True), (-0.39, False), (0.5, False)])
def test_what_is_heard_until_two_fifths_of_a_second_before_the_first_note_is_the_count_in(at_s, is_count_in):
    assert count_in(StartingBar(REQUEST), at_s) is is_count_in


def test_the_count_in_to_a_later_bar_lasts_until_that_bar():
    assert count_in(StartingBar(REQUEST).at(1), 1.5)
    assert not count_in(StartingBar(REQUEST).at(1), 1.7)


def test_of_an_instrument_that_is_not_only_heard_every_note_is_played():
    assert not count_in(StartingBar(REQUEST), -2.0, heard=False)


def test_before_the_take_has_begun_there_is_no_count_in():
    note = PlayedNote(started_s=1.0, sounding=F4, place=None, heard=True)
    assert not StartingBar(REQUEST).is_count_in(note, take_of())
