"""What is on its way into the log."""

from dataclasses import replace

import pytest

from game.coach.coach import advance
from game.coach.events import PassageFacts, PassageOpened
from game.coach.records import CoachState
from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.music.names import Spelling
from game.practice_log.database.store import open_store
from game.practice_log.rows.judgement_rows import judgement_of
from game.practice_log.rows.log_records import HelpGiven, NameGiven
from game.practice_log.rows.played_rows import raw_take
from game.practice_log.writing.entries import (
    AddDecision,
    AddHelp,
    AddName,
    AddPlayed,
    BeginTake,
    EndTake,
    ReopenTake,
    RevisePlayed,
    counted_from,
)
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of
from tests.practice_log.read_back import decisions_of

ZERO_S = 500.0
NOTE = PlayedNote(started_s=501.5, sounding=53, place=None, source="pickup", arrived_s=501.75)


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


@pytest.fixture
def numbers(log):
    """Handle 7 is a take that has begun."""
    numbers = {}
    BeginTake(7, begun(), DEVICE).write(log, numbers)
    return numbers


def test_a_note_is_counted_from_the_zero_of_its_take_with_its_arrival():
    counted = counted_from(NOTE, ZERO_S)
    assert (counted.started_s, counted.arrived_s) == (1.5, 1.75)
    assert counted_from(NOTE, 0.0) is NOTE
    assert counted_from(replace(NOTE, arrived_s=None), ZERO_S).arrived_s is None


def test_what_was_done_goes_to_the_take_of_its_handle_counted_from_its_zero(log, numbers):
    BeginTake(8, begun(minutes=1), DEVICE).write(log, numbers)
    entries = (
        AddPlayed(7, NOTE, ZERO_S),
        RevisePlayed(7, NOTE, replace(NOTE, sounding=55), ZERO_S),
        AddHelp(7, HelpGiven(n=1, step=HintStep.LETTER, at_s=5.0)),
        AddName(7, NameGiven(n=1, name=Spelling("F", 0), at_s=6.0)),
    )
    for entry in entries:
        entry.write(log, numbers)
    raw = raw_take(log, numbers[7])
    assert raw.played == (replace(counted_from(NOTE, ZERO_S), sounding=55),)
    assert (raw.helped, raw.names) == ((entries[2].given,), (entries[3].given,))
    assert raw_take(log, numbers[8]).played == ()


def test_a_judgement_is_kept_with_its_answers_counted_from_zero(log, numbers):
    take = begun()
    played = notes_of(take, zero_s=ZERO_S)
    for note in played:
        AddPlayed(7, note, ZERO_S).write(log, numbers)
    EndTake(7, ended(judged(take, played, zero_s=ZERO_S)), ZERO_S, DEVICE).write(log, numbers)
    assert judgement_of(log, numbers[7]) == judged(take, notes_of(take))


def test_a_take_of_an_earlier_run_is_opened_again_by_its_number_in_the_log_and_another_refused(log, numbers):
    again = {}
    ReopenTake(1, numbers[7]).write(log, again)
    assert again == {1: numbers[7]}
    with pytest.raises(ValueError, match="there is no take 99 in this log"):
        ReopenTake(2, 99).write(log, again)


def test_an_entry_for_a_take_that_never_began_is_an_error_of_its_own(log, numbers):
    with pytest.raises(KeyError):
        AddPlayed(9, NOTE, ZERO_S).write(log, numbers)


def test_a_decision_is_kept_with_the_event_and_without_a_take_where_it_has_none(log, numbers):
    event = PassageOpened(passage=PassageFacts(name="ford"), day=MORNING.date().toordinal())
    _, decision = advance(CoachState(), event)
    AddDecision(PLAYER, DEVICE, MORNING, event, decision, None).write(log, numbers)
    (logged,) = decisions_of(log, PLAYER.uuid)
    assert (logged.event, logged.decision, logged.at_utc) == (event, decision, MORNING)
    assert log.execute("SELECT take FROM coach_event").fetchone() == (None,)
