"""A page that was played within its whole tune has the record it would have of a take of its own."""

from dataclasses import replace

from game.coach.coach import advance, page_played, replayed
from game.coach.events import PassageFacts, PassageOpened
from game.coach.marks import Mark
from game.coach.stages import Pulse, Stage
from tests.coach.whole_takes import WHOLE, played


def after(state, result, pages):
    state, decision = advance(state, result)
    for page in pages:
        state = page_played(state, page)
    assert state.decision == decision
    return state


def test_it_moves_tempo_marks_and_halves_of_sign_offs_of_each_page_as_a_take_of_it_would():
    state = after(replayed(()), *played())
    assert list(state.records) == ["a", "b", "whole"]
    for name in "ab":
        record = state.records[name]
        assert (record.stage, record.pulse, record.last_bpm, record.kept_bpms) == (
            Stage.TIME,
            Pulse.METRONOME,
            60,
            (60,),
        )
        assert (record.marks, len(record.sign_offs), record.practised_day) == ((Mark.IN_TIME,), 1, 5)
    state = after(state, *played(day=6))
    assert Mark.SIGNED_OFF in state.records["a"].marks


def test_a_page_that_was_played_today_is_not_played_for_the_first_time():
    result, pages = played()
    own = replace(result, passage=replace(WHOLE, name="a"))
    state, _ = advance(replayed(()), replace(own, clean=5, wrong_notes=frozenset(range(1, 6))))
    state = after(state, result, pages)
    assert (len(state.records["a"].sign_offs), len(state.records["b"].sign_offs)) == (0, 1)


def test_no_page_is_set_back():
    opened = PassageOpened(passage=PassageFacts(name="a"), day=5, begin_at=Stage.TIME)
    state, _ = advance(replayed(()), opened)
    state = after(state, *played(stage=Stage.PLACES, bpm=None))
    assert (state.records["a"].stage, state.records["b"].marks) == (Stage.TIME, (Mark.FOUND,))
    assert after(state, *played(stage=Stage.SIGHT)).records["a"].stage is Stage.TIME


def test_it_is_read_only_where_the_bars_of_the_whole_were_hardly_met():
    first = after(replayed(()), *played(stage=Stage.SIGHT, sighting=1))
    assert [first.records[name].read_day for name in "ab"] == [5, 5]
    third = after(replayed(()), *played(stage=Stage.SIGHT, sighting=3))
    assert [third.records[name].read_day for name in "ab"] == [None, None]


def test_the_log_tells_it_as_it_was():
    result, pages = played()
    assert replayed((result, *pages)) == after(replayed(()), result, pages)
