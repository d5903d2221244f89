"""The coach's state comes back by replaying the log."""

import json

import pytest

from game.coach.coach import replayed
from game.judging.verdicts import Judgement
from game.message import to_plain, verbatim
from game.practice_log.database.store import open_store
from game.practice_log.rows.decision_rows import coach_result
from game.text.catalogue import tell, tell_all
from tests.practice_log.coached_takes import FACTS, some_days
from tests.practice_log.logged_takes import MORNING, PLAYER, begun
from tests.practice_log.read_back import decisions_of


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


def test_events_and_decisions_come_back_in_order(log):
    practice = some_days(log)
    logged = decisions_of(log, PLAYER.uuid)
    assert [(item.event, item.decision) for item in logged] == practice.said
    assert [item.at_utc for item in logged] == practice.at


def test_the_log_keeps_what_the_coach_says_as_keys_with_values_and_in_no_language(log):
    practice = some_days(log)
    kept = [json.loads(text) for (text,) in log.execute("SELECT reason FROM decision ORDER BY coach_event")]
    assert kept == [[to_plain(said) for said in decision.reason] for _, decision in practice.said]
    assert kept[0] == [{"key": "coach.begin.places", "values": {}}]
    assert kept[-1][-1]["values"].keys() == {"bpm"}


def test_a_finished_sentence_of_an_old_log_is_said_as_it_was(log, monkeypatch):
    written = "game.practice_log.rows.decision_rows.messages_text"
    monkeypatch.setattr(written, lambda _: "Eleven of twelve at 72. Now 80.")
    some_days(log)
    logged = decisions_of(log, PLAYER.uuid)
    assert logged[2].decision.reason == (verbatim("Eleven of twelve at 72. Now 80."),)
    assert tell_all(logged[2].decision.reason) == "Eleven of twelve at 72. Now 80."


def test_a_reason_of_another_version_of_the_program_says_so(log, monkeypatch):
    """An export may come from a newer one, or from somebody who means no good."""
    written = "game.practice_log.rows.decision_rows.messages_text"
    monkeypatch.setattr(written, lambda _: '[{"key":"coach.of_years_to_come","values":{}}]')
    some_days(log)
    (said,) = decisions_of(log, PLAYER.uuid)[0].decision.reason
    assert tell(said).startswith("This was written by another version of the program")


def test_replaying_the_log_gives_the_coachs_state(log):
    practice = some_days(log)
    state = replayed(item.event for item in decisions_of(log, PLAYER.uuid))
    assert state.records["ford"].takes_today == 1
    assert state.records["ford"] == practice.state.records["ford"]
    assert (state.wish, state.decision) == (practice.state.wish, practice.said[-1][1])


def test_verdicts_and_notes_asked_must_be_of_one_length():
    with pytest.raises(ValueError, match=r"zip\(\) argument 2 is longer"):
        coach_result(begun(), FACTS, day=1, judgement=Judgement(verdicts=()))
