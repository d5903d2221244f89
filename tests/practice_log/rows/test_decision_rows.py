"""The coach's state comes back by replaying the log."""

import json
from datetime import timedelta

import pytest

from game.coach.coach import advance, replayed
from game.coach.events import Overruled, PassageFacts, PassageOpened, Wish
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.judging.letters import begin_naming, finish_naming, give_name
from game.judging.verdicts import Judgement
from game.message import to_plain, verbatim
from game.music.names import spelling_of
from game.practice_log.database.store import open_store
from game.practice_log.rows.decision_rows import coach_result, decisions_of, put_decision
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import NameGiven, Sighting, Terms
from game.practice_log.rows.played_rows import put_name
from game.practice_log.rows.row_values import utc_text
from game.practice_log.rows.shared_rows import put_device, put_player
from game.practice_log.rows.take_rows import put_take
from game.text.catalogue import tell, tell_all
from tests.practice_log.logged_takes import DEVICE, MORNING, PLAYER, begun, ended, judged, notes_of

FACTS = PassageFacts(name="ford", notes_per_beat=0.75, usual_note_beats=1.0, target_bpm=92)


@pytest.fixture(name="log")
def in_memory():
    log = open_store(None, now_utc=MORNING)
    yield log
    log.close()


class Practice:
    """A coach and a log side by side."""

    def __init__(self, log):
        self.log, self.state, self.said = log, CoachState(), []
        self.who = (put_player(log, PLAYER), put_device(log, DEVICE))

    def happen(self, event, take=None):
        self.state, decision = advance(self.state, event)
        self.said.append((event, decision))
        at_utc = utc_text(MORNING + timedelta(minutes=len(self.said)))
        put_decision(self.log, self.who, at_utc, event, decision, take)

    def play(self, terms, *, day, sighting=None, **how):
        take = begun(terms, sighting=sighting)
        number = put_take(self.log, take, DEVICE)
        judgement = judged(take, notes_of(take, **how))
        put_ending(self.log, number, ended(judgement))
        self.happen(coach_result(take, FACTS, day=day, judgement=judgement), number)


def some_days(log):
    """Places, letters, a wish, and the metronome, over three days."""
    practice = Practice(log)
    practice.happen(PassageOpened(passage=FACTS, day=1))
    for nth in range(1, 4):
        practice.play(Terms(stage=Stage.PLACES), day=1, sighting=Sighting(nth=nth), gap_s=0.61, wrong={nth})
    practice.happen(PassageOpened(passage=FACTS, day=2, begin_at=Stage.LETTERS))
    practice.happen(Overruled(passage=FACTS, day=2, wish=Wish.METRONOME_NOW, tempo_bpm=66))
    timed = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=66.0)
    practice.play(timed, day=2, sighting=Sighting(nth=4, heard=True))
    practice.happen(Overruled(passage=FACTS, day=2, wish=Wish.SLOWER))
    practice.play(timed, day=3, sighting=Sighting(nth=5, known_by_ear=True), wrong={1, 2, 3})
    return practice


def test_events_and_decisions_come_back_in_order(log):
    practice = some_days(log)
    logged = decisions_of(log, PLAYER.uuid)
    assert [(item.event, item.decision) for item in logged] == practice.said
    assert [item.at_utc for item in logged] == [MORNING + timedelta(minutes=n) for n in range(1, len(logged) + 1)]


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


def test_replay_can_go_on_from_where_it_was(log):
    some_days(log)
    every = decisions_of(log, PLAYER.uuid)
    assert decisions_of(log, PLAYER.uuid, after=every[4].number) == every[5:]


def test_what_the_coach_heard_of_a_take_in_letters_is_worked_out_from_its_names(log):
    practice = Practice(log)
    take = begun(Terms(stage=Stage.LETTERS))
    number = put_take(log, take, DEVICE)
    naming = begin_naming([note.note for note in take.asked.notes], now_s=0.0)
    for at_s, note in enumerate(take.asked.notes[:5], start=1):
        name = spelling_of(note.note.pitch)
        naming, _ = give_name(naming, name, now_s=at_s)
        put_name(log, number, NameGiven(n=note.n, name=name, at_s=at_s))
    named = finish_naming(naming)
    put_ending(log, number, ended(named=named))
    result = coach_result(take, FACTS, day=1, named=named)
    assert (result.homes, result.clean, result.unread) == (5, 5, 1)
    practice.happen(result, number)
    (logged,) = decisions_of(log, PLAYER.uuid)
    assert logged.event == result


def test_verdicts_and_notes_asked_must_be_of_one_length():
    with pytest.raises(ValueError, match=r"zip\(\) argument 2 is longer"):
        coach_result(begun(), FACTS, day=1, judgement=Judgement(verdicts=()))
