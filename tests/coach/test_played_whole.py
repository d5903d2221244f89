"""A clean take of a whole tune is one of each of its pages, and a first sighting only where it was one of the whole."""

from dataclasses import replace

import pytest

from game.coach.coach import advance, page_played, replayed
from game.coach.events import PassageFacts, PassageOpened
from game.coach.judged_take import JudgedNote, take_result
from game.coach.marks import Mark
from game.coach.played_whole import PageOfWhole, pages_played
from game.coach.stages import Pulse, Stage
from game.judging.verdicts import EventKind, Verdict

WHOLE = PassageFacts(name="whole", target_bpm=60)
PAGES = tuple(
    PageOfWhole(facts=PassageFacts(name=name), first=first, last=first + 9) for name, first in (("a", 1), ("b", 11))
)


def played(stage=Stage.TIME, bpm=60.0, events=(), day=5, sighting=3, **verdicts):
    """A take of twenty notes; `verdicts` are those that are not clean, by "n" and their number."""
    notes = [
        JudgedNote(n, verdicts.get(f"n{n}", Verdict.CLEAN), homed=n != 20, repeated=False, find_ms=900.0)
        for n in range(1, 21)
    ]
    result = take_result(
        notes, events, passage=WHOLE, day=day, stage=stage, tempo_bpm=bpm, sighting=sighting, minute=600
    )
    return result, pages_played(result, notes, PAGES)


def test_each_page_has_its_own_notes():
    _, (first, _) = played(n3=Verdict.LATE)
    _, (_, second) = played(n14=Verdict.WRONG_PITCH)
    assert (first.result.passage.name, first.result.passage.target_bpm) == ("a", 60)
    assert (first.result.homes, first.result.clean, first.result.off_time) == (10, 10, 1)
    assert (second.result.homes, second.result.clean, second.result.wrong_notes) == (9, 8, {4})
    assert (second.result.day, second.result.tempo_bpm, second.result.minute) == (5, 60.0, 600)


@pytest.mark.parametrize(
    "take",
    [
        played(events=(EventKind.STOP,)),
        played(n1=Verdict.MISSED, n2=Verdict.MISSED, n3=Verdict.MISSED),
        played(n1=Verdict.LATE, n2=Verdict.EARLY, n3=Verdict.LATE),
        played(n19=Verdict.UNREAD),
        played(stage=Stage.RHYTHM),
        played(stage=Stage.LETTERS, bpm=None),
    ],
)
def test_a_take_that_was_not_clean_or_asked_no_pitches_counts_for_none(take):
    assert take[1] == ()


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


def test_a_page_has_notes():
    with pytest.raises(ValueError, match="no page has the notes"):
        PageOfWhole(facts=WHOLE, first=4, last=3)
