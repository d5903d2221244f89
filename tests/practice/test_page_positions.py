"""Where the hand is on a page: numerals where it shifts, and none on a page in the position of its map."""

from dataclasses import replace

import pytest

from game.coach.stages import Stage
from game.music.passage import Passage, whole_tune
from game.music.score import BarMarks
from game.music.written import HeadId, written_out
from game.neck.neck_map import SecondRegion, standard_map
from game.neck.tuning import Place
from game.practice.page_positions import (
    highest_fret,
    numerals_of,
    numerals_on,
    places_without_home,
    positions_in_passage,
    positions_on_page,
)
from game.practice.take_request import request_for
from tests.made import score

MAP = standard_map()
HOME, LOW, HIGH = "A4 q, C5 q, E5 q, A4 q", "A4 q, F3 q, A4 q, C5 q", "D6 q, E6 q, F6 q, G6 q"
"""A bar in position V, one with a note below it, one above it, as they are written (an octave above what sounds)."""


def of_passage(*rows, start=0, stop=None, neck_map=MAP):
    tune = written_out(score(*rows))
    passage = Passage(score=tune, start=start, stop=len(tune.bars) if stop is None else stop)
    return [(one.head.bar, one.head.event, one.numeral) for one in positions_in_passage(passage, neck_map)]


def with_marks(tune, marks):
    return replace(tune, bars=tuple(replace(bar, marks=marks.get(at, bar.marks)) for at, bar in enumerate(tune.bars)))


def on_page(tune, neck_map=MAP):
    return [(one.head.bar, one.head.event, one.numeral) for one in positions_on_page(tune, neck_map)]


def test_a_page_of_one_position_has_no_numeral():
    assert of_passage(HOME, HOME) == []


def test_one_low_note_has_its_numeral_and_the_note_after_it_another():
    assert of_passage(HOME, LOW) == [(0, 0, "V"), (1, 1, "I"), (1, 2, "V")]


def test_a_passage_that_begins_after_a_shift_says_where_the_hand_is():
    high = of_passage(HOME, HIGH, HIGH, HOME)
    assert [numeral for _, _, numeral in high][0::2] == ["V", "V"]
    up = high[1][2]
    assert of_passage(HOME, HIGH, HIGH, HOME, start=2, stop=3) == [(0, 0, up)]
    assert of_passage(HOME, HIGH, HIGH, HOME, start=2) == [(0, 0, up), (1, 0, "V")]


def test_a_passage_in_the_position_of_the_map_has_none_though_its_tune_shifts():
    assert of_passage(HOME, LOW, HOME, start=2) == []


def test_an_open_string_has_none():
    assert of_passage("A4 q, E3 q, A4 q, C5 q") == []


def test_a_tied_note_is_not_shifted_to_twice():
    assert of_passage("A4 q, A4 q, A4 q, F3 q ~", "F3 q, A4 q, C5 q, E5 q") == [(0, 0, "V"), (0, 3, "I"), (1, 1, "V")]


def test_a_hand_that_goes_to_and_fro_has_both_numerals_once():
    """Across a seam where neither region has the notes of the other."""
    joined = standard_map(second=SecondRegion(position=9, seam=66))
    rows = (HOME, "A4 q, E5 q, F#5 q, E5 q", "F#5 q, E5 q, F#5 q, E5 q", HOME)
    assert of_passage(*rows, neck_map=joined) == [(0, 0, "V"), (1, 2, "V/IX"), (2, 3, "V")]


def test_two_shifts_are_no_to_and_fro():
    assert [numeral for _, _, numeral in of_passage(LOW)] == ["V", "I", "V"]


def test_what_is_played_again_stands_once_on_the_page_with_what_the_hand_does_at_its_beginning():
    """Bars 2 and 3 repeated: the hand comes back to the beginning of bar 2 from above."""
    tune = with_marks(score(HOME, HOME, HIGH, HOME), {1: BarMarks(repeat_start=True), 2: BarMarks(repeat_end=2)})
    found = on_page(tune)
    assert [one[:2] for one in found] == [(0, 0), (1, 0), (2, 0), (3, 0)]
    assert [found[at][2] for at in (0, 1, 3)] == ["V", "V", "V"]


def test_the_notated_page_and_the_passage_say_the_same_where_nothing_is_repeated():
    rows = (HOME, LOW, HIGH, HOME)
    assert on_page(score(*rows)) == of_passage(*rows)


def test_another_map_has_other_numerals():
    assert of_passage("D6 q, E6 q, F6 q, D6 q", neck_map=standard_map(position=10)) == []
    assert of_passage(HOME, LOW, neck_map=standard_map(position=1)) != of_passage(HOME, LOW)


@pytest.mark.parametrize(
    ("stage", "has"), [(Stage.PLACES, True), (Stage.TIME, True), (Stage.LETTERS, False), (Stage.RHYTHM, False)]
)
def test_they_stand_where_places_are_asked_for_and_nowhere_else(stage, has):
    request = request_for(score(HOME, LOW), MAP).in_stage(stage)
    assert bool(numerals_on(request)) is has
    assert bool(numerals_of(request.passage, MAP, stage)) is has


def test_a_note_without_a_home_has_the_place_to_which_the_hand_goes_in_the_whole_tune():
    tune = written_out(score(HOME, LOW, "E3 q, F3 q, A4 h"))
    last = Passage(score=tune, start=1, stop=3)
    assert places_without_home(last, MAP) == {
        HeadId(0, 1): Place(6, 1),
        HeadId(1, 0): Place(6, 0),
        HeadId(1, 1): Place(6, 1),
    }
    assert places_without_home(Passage(score=tune, start=0, stop=1), MAP) == {}
    assert places_without_home(whole_tune(score("C1 q, A4 h")), MAP) == {}


def test_the_highest_fret_is_that_of_a_home_or_of_a_note_beyond_them():
    assert highest_fret(request_for(score("A4 q, C5 q, E5 h"), MAP)) == 7
    assert highest_fret(request_for(score("A4 q, F6 q, E5 h"), MAP)) == 13
    assert highest_fret(request_for(score("C1 w"), MAP)) == 0


def test_at_first_sight_the_numerals_are_those_of_the_notated_page():
    tune = with_marks(score(HOME, LOW), {1: BarMarks(repeat_end=2)})
    request = request_for(tune, MAP).at_sight()
    assert numerals_on(request) == {HeadId(0, 0): "V", HeadId(1, 1): "I", HeadId(1, 2): "V"}
    assert len(numerals_of(whole_tune(written_out(tune)), MAP)) == 5
