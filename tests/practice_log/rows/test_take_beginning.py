"""A take's beginning, put together from what the app has in hand."""

from dataclasses import replace

from game.judging.expected import expected_notes
from game.music.passage import whole_tune
from game.practice_log.rows.log_records import Sighting, Terms
from game.practice_log.rows.passage_key import passage_key
from game.practice_log.rows.take_beginning import asked_in, bars_of, take_begun
from tests.made import score
from tests.practice_log.logged_takes import MAP, MORNING, PICKUP, PLACES, PLAYER

TUNE = whole_tune(score("F4 w", "gA4 e, G4 h, A4 h", "Bb4 w", title="Ford"))
INNER = replace(TUNE, start=1, stop=3)


def test_bars_are_told_by_the_numbers_on_the_page_and_by_their_place_in_the_tune():
    bars = bars_of(INNER)
    assert (bars.title, bars.start, bars.stop) == ("Ford", 1, 3)
    assert (bars.first, bars.last) == INNER.bar_numbers
    assert bars.passage_key == passage_key(INNER)


def test_the_notes_are_asked_with_their_homes_from_the_start_of_the_passage_with_bars_and_graces():
    asked = asked_in(INNER, MAP)
    assert asked.notes == expected_notes(INNER.notes, MAP)
    assert [note.note.onset for note in asked.notes] == [0, 2, 4]
    assert [span.start for span in asked.spans] == [0, 4]
    assert asked.graces == {1: (57,)}


def test_a_take_holds_all_it_is_given():
    take = take_begun(
        TUNE, MAP, PLACES, started_at=MORNING, player=PLAYER, instrument=PICKUP, sighting=Sighting(nth=2, heard=True)
    )
    assert (take.started_at, take.player, take.instrument, take.neck_map) == (MORNING, PLAYER, PICKUP, MAP)
    assert (take.terms, take.sighting) == (Terms(stage=PLACES.stage), Sighting(nth=2, heard=True))
    assert (take.bars, take.asked) == (bars_of(TUNE), asked_in(TUNE, MAP))
