"""Bars are met in whatever passage they stand: the first two sightings are of bars, not of passages."""

from dataclasses import replace
from uuid import UUID

import pytest

from game.music.passage import Passage, passages_of, whole_tune
from game.practice_log.database.identity import Identity
from game.practice_log.database.store import open_store
from game.practice_log.queries.take_sightings import sighting_now
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Outcome
from game.practice_log.rows.take_rows import put_take
from tests.made import score
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

# Two passages of four bars; the eighth bar is as the fourth.
ROWS = ("F4 q, G4 q, A4 h", "A4 w", "Bb4 h, A4 h", "G4 w", "C5 h, A4 h", "F4 q, E4 q, F4 h", "D4 w", "G4 w")
TUNE = score(*ROWS)
FIRST, SECOND = passages_of(TUNE)
WHOLE = whole_tune(TUNE)
BO = Identity(uuid=UUID(int=11), name="Bo")


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def put(log, passage: Passage, *, answered: int | None = None, player=PLAYER):
    """A take of these bars, played to its end or to its `answered`-th note."""
    take = begun(tune=passage, player=player)
    number = put_take(log, take, DEVICE)
    outcome = Outcome.FINISHED if answered is None else Outcome.BROKEN_OFF
    notes = notes_of(take) if answered is None else notes_of(take)[:answered]
    put_ending(log, number, replace(ended(judged(take, notes)), outcome=outcome), DEVICE)


def met(log, passage, player=PLAYER):
    return sighting_now(log, player.uuid, passage).nth - 1


def test_nothing_is_met_at_first(log):
    assert [met(log, passage) for passage in (FIRST, SECOND, WHOLE)] == [0, 0, 0]


def test_a_tune_read_whole_was_met_in_all_its_passages(log):
    put(log, WHOLE)
    assert [met(log, passage) for passage in (FIRST, SECOND, WHOLE)] == [1, 1, 1]


def test_passages_that_were_practised_are_met_when_the_tune_is_read_whole(log):
    for _ in range(3):
        put(log, FIRST)
    put(log, SECOND)
    assert [met(log, passage) for passage in (FIRST, SECOND, WHOLE)] == [3, 1, 3]


def test_passages_that_overlap_add_up_bar_by_bar(log):
    """Bars 1 to 4, then 3 to 6: only the bars in both were met twice."""
    put(log, FIRST)
    put(log, replace(FIRST, start=2, stop=6))
    assert [met(log, replace(FIRST, start=start, stop=stop)) for start, stop in ((0, 2), (2, 4), (4, 6))] == [1, 2, 1]
    assert met(log, replace(FIRST, start=6, stop=8)) == 0


def test_bars_that_a_take_did_not_come_to_were_not_met(log):
    """Broken off on the fourth note, which is the second bar; a note later and further on it is another bar."""
    put(log, WHOLE, answered=4)
    one = [replace(FIRST, start=bar, stop=bar + 1) for bar in range(8)]
    assert [met(log, bar) for bar in one] == [1, 1, 0, 0, 0, 0, 0, 0]
    assert met(log, SECOND) == 0
    put(log, WHOLE, answered=5)
    assert [met(log, bar) for bar in one] == [2, 2, 1, 0, 0, 0, 0, 0]


def test_a_take_under_way_or_killed_counts_whole(log):
    put_take(log, begun(tune=FIRST), DEVICE)
    assert met(log, WHOLE) == 1


def test_the_same_bars_are_met_under_another_title_and_in_a_tune_that_begins_alike(log):
    put(log, passages_of(replace(TUNE, title="Another name"))[0])
    assert met(log, FIRST) == 1
    other = score(*ROWS[:4], "D4 w", "E4 w", "F4 w", "D4 w")
    assert met(log, whole_tune(other)) == 1
    assert met(log, passages_of(other)[1]) == 0


def test_the_same_place_in_another_tune_is_not_the_same_music(log):
    """Only where all bars that stand at the same place are alike it is; nor is a bar met that is alike elsewhere."""
    put(log, whole_tune(score("C5 w", *ROWS[1:])))
    assert [met(log, passage) for passage in (FIRST, SECOND, WHOLE)] == [0, 1, 0]
    put(log, replace(FIRST, start=3, stop=4))
    assert [met(log, passage) for passage in (FIRST, SECOND, WHOLE)] == [1, 1, 1]


def test_a_passage_that_comes_again_later_in_the_tune_is_met_there_too(log):
    again = passages_of(score(*ROWS[:4], *ROWS[4:], *ROWS[:4]))
    put(log, again[0])
    assert [met(log, passage) for passage in again] == [1, 0, 1]


def test_what_another_player_met_is_new_to_this_one(log):
    put(log, WHOLE, player=BO)
    assert (met(log, FIRST), met(log, FIRST, BO)) == (0, 1)
