"""What is to be read and how."""

import pytest

from game.coach.decisions import Decision, Offer
from game.coach.numbers import NUMBERS
from game.coach.stages import Pulse, Stage
from game.message import verbatim
from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.practice.take_request import TakeRequest, request_for
from tests.made import score

MAP = standard_map()
QUARTERS = "F4 q, G4 q, A4 q, Bb4 q"
TUNE = score(*[QUARTERS] * 10)


def request() -> TakeRequest:
    return request_for(TUNE, MAP)


def spans(asked: TakeRequest) -> list[tuple[int, int]]:
    return [(passage.start, passage.stop) for passage in asked.passages]


def test_a_tune_lies_at_its_first_passage_in_the_stage_of_places():
    asked = request()
    assert (asked.index, asked.passage.start, asked.stage, asked.pulse) == (0, 0, Stage.PLACES, Pulse.FREE)
    assert len(asked.passages) > 1


def test_it_is_read_at_the_octave_of_the_players_map():
    concert = standard_map(reading=Reading.CONCERT)
    assert request_for(TUNE, concert).passage.reading is Reading.CONCERT


def test_moving_on_stays_at_the_ends():
    asked = request()
    last = len(asked.passages) - 1
    assert asked.moved(-1).index == 0
    assert asked.moved(1).index == 1
    assert asked.moved(99).index == last
    assert (asked.is_last, asked.moved(99).is_last) == (False, True)


def test_the_whole_tune_is_one_passage_and_once_more_its_passages_again():
    whole = request().moved(1).whole_or_passages()
    assert spans(whole) == [(0, 10)]
    assert spans(whole.whole_or_passages()) == spans(request())
    assert whole.whole_or_passages().index == 0


@pytest.mark.parametrize(("by", "stop"), [(1, 5), (-1, 3), (-99, 1), (99, 10)])
def test_more_bars_or_fewer_begin_where_the_passage_does(by: int, stop: int):
    asked = request()
    assert (asked.passage.start, asked.passage.stop) == (0, 4)
    changed = asked.with_bars(by)
    assert (changed.passage.start, changed.passage.stop) == (0, stop)
    assert spans(changed)[1:] == spans(asked)[1:]


def test_bars_without_a_note_to_play_are_never_all_there_is():
    silent = request_for(score("r w", "r w", QUARTERS, QUARTERS), MAP)
    assert silent.with_bars(-3) == silent


def test_a_stage_chosen_by_the_player_is_at_their_own_pace_and_for_no_reason():
    timed = request().as_decided(decision())
    chosen = timed.in_stage(Stage.RHYTHM)
    assert (chosen.stage, chosen.pulse, chosen.tempo_bpm, chosen.reason) == (Stage.RHYTHM, Pulse.FREE, None, ())
    assert not chosen.settling
    assert [chosen.next_stage().stage, request().next_stage().stage] == [Stage.RHYTHM.following, Stage.PLACES.following]


def test_at_first_sight_the_whole_tune_is_read_once_through():
    sight = request().moved(1).at_sight()
    assert (spans(sight), sight.index, sight.stage, sight.pulse) == ([(0, 10)], 0, Stage.SIGHT, Pulse.FREE)


def test_one_note_a_click_is_a_way_there_and_back():
    asked = request().by_the_click()
    assert (asked.stage, asked.pulse, asked.one_a_click) == (Stage.PLACES, Pulse.METRONOME, True)
    assert asked.tempo_bpm == NUMBERS.bridge_bpm
    back = asked.by_the_click()
    assert (back.stage, back.pulse, back.one_a_click, back.tempo_bpm) == (Stage.PLACES, Pulse.FREE, False, None)


def decision() -> Decision:
    return Decision(
        passage="a",
        offer=Offer.AGAIN,
        stage=Stage.TIME,
        pulse=Pulse.METRONOME,
        tempo_bpm=66,
        settling=True,
        reason=(verbatim("Why."),),
    )


def test_what_the_coach_decides_is_asked_of_the_same_bars():
    asked = request().moved(1).by_the_click().as_decided(decision())
    assert (asked.index, asked.stage, asked.pulse, asked.tempo_bpm) == (1, Stage.TIME, Pulse.METRONOME, 66)
    assert (asked.settling, asked.one_a_click, asked.reason) == (True, False, (verbatim("Why."),))


def test_bars_taken_out_of_a_passage_lead_back_to_it_and_on_to_the_others():
    tune = request_for(score(*["C4 w"] * 8), standard_map())
    few = tune.narrowed(2, 3)
    assert (few.passage.start, few.passage.stop) == (2, 4)
    assert few.around == tune.passage
    assert few.widened() == tune
    assert few.narrowed(0, 0).passage.stop == 1, "counted within the whole passage"
    assert few.moved(1) == tune.moved(1)
    assert few.moved(1).moved(-1) == tune
    assert few.whole_or_passages().around is None
    assert few.with_bars(1).around is None
    assert few.at_sight().around is None
    assert tune.widened() is tune
