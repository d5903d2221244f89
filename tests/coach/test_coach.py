"""The transition: every event is answered by a decision with its reason."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.coach.coach import advance, replayed
from game.coach.decisions import Offer
from game.coach.events import Overruled, PassageFacts, PassageOpened, TakeResult, Wish
from game.coach.records import CoachState
from game.coach.stages import Pulse, Stage
from game.text.catalogue import tell_all
from tests.coach.coach_takes import PASSAGE, take
from tests.sampling import how_many


def overruled(wish, bpm=None, day=1):
    return Overruled(passage=PASSAGE, day=day, wish=wish, tempo_bpm=bpm)


def last_decision(*events):
    return replayed(events).decision


def test_a_decision_says_in_a_sentence_what_was_played_and_what_comes():
    assert tell_all(last_decision(take(1, bpm=72)).reason) == "31 of 32 at 72, without a stop. Now 90."


def test_metronome_now_is_granted_at_the_tempo_the_player_named_and_learned_from():
    state = replayed([take(9), overruled(Wish.METRONOME_NOW, 66)])
    asked = state.decision
    assert (asked.stage, asked.pulse, asked.tempo_bpm) == (Stage.TIME, Pulse.METRONOME, 66)
    state, decision = advance(state, take(1, bpm=66))
    assert state.records[PASSAGE.name].belief is not None
    assert decision.tempo_bpm > 66


def test_nothing_read_is_said_and_asked_for_again_but_not_for_ever():
    empty = take(notes=0, bpm=72)
    decision = last_decision(overruled(Wish.METRONOME_NOW, 72), empty)
    assert decision.tempo_bpm == 72
    assert tell_all(decision.reason).startswith("Nothing was read.")
    assert last_decision(*[empty] * 5).offer is Offer.SIBLING


def test_an_earlier_date_on_the_clock_does_no_harm():
    state = replayed([take(bpm=80, day=9), take(bpm=80, day=3)])
    assert state.records[PASSAGE.name].day == 9


def test_notes_away_from_home_are_sent_to_review():
    assert last_decision(take(bpm=80, wrong=1, other_place_notes=frozenset({4}))).to_review == (4,)


def test_days_away_make_the_estimate_less_sure_and_leave_it_where_it_was():
    week = [take(wrong, bpm=bpm) for wrong, bpm in ((1, 80), (2, 96), (5, 108), (4, 100))]
    sure = replayed(week).records[PASSAGE.name].belief
    back = replayed([*week, PassageOpened(passage=PASSAGE, day=30)]).records[PASSAGE.name].belief
    assert back.spread > sure.spread * 1.5
    assert back.bpm == pytest.approx(sure.bpm, rel=0.03)


PASSAGES = st.sampled_from([PASSAGE, PassageFacts(name="no target", notes_per_beat=2, usual_note_beats=0.5)])
DAYS = st.integers(1, 6)


@st.composite
def takes(draw):
    homes = draw(st.integers(0, 40))
    clean = draw(st.integers(0, homes))
    return TakeResult(
        passage=draw(PASSAGES),
        day=draw(DAYS),
        stage=draw(st.sampled_from(Stage)),
        tempo_bpm=draw(st.none() | st.floats(1, 900)),
        homes=homes,
        clean=clean,
        off_time=draw(st.integers(0, clean)),
        unread=draw(st.sampled_from([0, 0, 0, 9])),
        stops=draw(st.sampled_from([0, 0, 2])),
        wrong_notes=frozenset(range(1, homes - clean + 1)),
        find_times_s=tuple(draw(st.lists(st.floats(0, 20), max_size=4))),
        sighting=draw(st.integers(1, 9)),
        heard=draw(st.booleans()),
        self_marked=draw(st.booleans()),
    )


EVENTS = st.lists(
    takes()
    | st.builds(PassageOpened, passage=PASSAGES, day=DAYS, begin_at=st.sampled_from(Stage))
    | st.builds(
        Overruled,
        passage=PASSAGES,
        day=DAYS,
        wish=st.sampled_from(Wish),
        tempo_bpm=st.none() | st.integers(1, 999),
    ),
    min_size=1,
    max_size=14,
)


@settings(max_examples=how_many(80, by_default=20), deadline=None, derandomize=True)
@given(EVENTS)
def test_whatever_happens_there_is_a_decision_that_can_be_played_and_said(events):
    state = CoachState()
    for event in events:
        state, decision = advance(state, event)
        assert state.decision == decision
        assert (decision.tempo_bpm is not None) == (decision.pulse is Pulse.METRONOME)
        assert decision.tempo_bpm is None or 30 <= decision.tempo_bpm <= 300
        said = tell_all(decision.reason)
        assert said.endswith(".")
        assert "None" not in said.replace("None of", "")


@settings(max_examples=15, deadline=None, derandomize=True)
@given(EVENTS)
def test_replaying_the_log_gives_the_same_state(events):
    state = CoachState()
    for event in events:
        state, _ = advance(state, event)
    assert replayed(events) == state


def test_a_passage_laid_aside_and_opened_again_the_same_day_goes_on_at_the_tempo_decided_last():
    decided = last_decision(overruled(Wish.METRONOME_NOW, 66), take(1, bpm=66))
    opened = last_decision(overruled(Wish.METRONOME_NOW, 66), take(1, bpm=66), PassageOpened(passage=PASSAGE, day=1))
    assert opened.tempo_bpm == decided.tempo_bpm


def test_the_passage_played_last_stands_last():
    state = CoachState()
    for name in ("ford", "weir", "ford"):
        state, _ = advance(state, PassageOpened(passage=PassageFacts(name=name), day=1))
    assert list(state.records) == ["weir", "ford"]
