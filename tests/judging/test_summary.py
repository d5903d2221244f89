"""A take in figures. Median and standard deviation are checked by numpy."""

from itertools import accumulate

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.summary import ahead_percent, summary_of
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, TakeEvent, Verdict
from game.neck.neck_map import standard_map
from tests.made import passage

MAP = standard_map()


def summary(*words, offsets_ms=None, events=(), row="G4 q, G4 q, G4 q, G4 q"):
    offsets_ms = offsets_ms or [None] * len(words)
    verdicts = tuple(
        NoteVerdict(n=n, verdict=word, offset_ms=offset_ms)
        for n, (word, offset_ms) in enumerate(zip(words, offsets_ms, strict=True), start=1)
    )
    expected = expected_notes(passage(row).notes, MAP)[: len(words)]
    return summary_of(Judgement(verdicts=verdicts, events=tuple(events)), expected)


def test_the_clean_share_is_of_right_notes_in_time_or_not():
    told = summary(Verdict.CLEAN, Verdict.EARLY, Verdict.LATE, Verdict.WRONG_PITCH)
    assert told.clean_share == 0.75
    assert told.counts[Verdict.CLEAN] == 1
    assert sum(told.counts.values()) == 4


def test_notes_not_read_and_notes_without_a_home_are_out_of_the_share():
    told = summary(Verdict.CLEAN, Verdict.WRONG_PITCH, Verdict.UNREAD, row="G4 q, E6 q, G4 h")
    assert told.clean_share == 1
    assert told.counts[Verdict.WRONG_PITCH] == 1


@given(st.lists(st.floats(-500, 500), min_size=1, max_size=4))
def test_bias_is_the_median_offset_and_spread_its_standard_deviation(offsets_ms):
    told = summary(*[Verdict.CLEAN] * len(offsets_ms), offsets_ms=offsets_ms)
    assert told.bias_ms == pytest.approx(np.median(offsets_ms))
    assert told.spread_ms == pytest.approx(np.std(offsets_ms), abs=1e-6)


def test_an_untimed_take_has_neither():
    assert (summary(Verdict.CLEAN).bias_ms, summary(Verdict.CLEAN).spread_ms) == (None, None)


def test_a_take_kept_going_without_event_and_with_every_note_read():
    stop = TakeEvent(kind=EventKind.STOP, n=2, time_ms=1000)
    assert summary(Verdict.CLEAN, Verdict.MISSED).kept_going
    assert not summary(Verdict.CLEAN, Verdict.UNREAD).kept_going
    assert not summary(Verdict.CLEAN, Verdict.CLEAN, events=[stop]).kept_going


def test_who_ran_ahead_or_fell_behind_kept_going_all_the_same():
    paced = [TakeEvent(kind=kind, n=2, time_ms=1000) for kind in (EventKind.RAN_AHEAD, EventKind.FELL_BEHIND)]
    assert summary(Verdict.CLEAN, Verdict.LATE, events=paced).kept_going


def test_right_notes_and_time_are_two_counts_of_the_same_notes():
    told = summary(Verdict.CLEAN, Verdict.EARLY, Verdict.LATE, Verdict.MISSED, offsets_ms=[0, -90, 90, None])
    assert (told.asked, told.right_notes, told.in_time) == (4, 3, 1)


def test_nothing_is_said_of_time_where_there_was_no_clock():
    told = summary(Verdict.CLEAN, Verdict.CLEAN)
    assert (told.in_time, told.ahead_percent) == (None, None)


def played_at(due_s, played_s, events=()):
    """A take's judgement with every note right, due and played at these seconds."""
    verdicts = tuple(
        NoteVerdict(
            n=n,
            verdict=Verdict.CLEAN,
            answers=(PlayedNote(started_s=at_s, sounding=60, place=None),),
            offset_ms=(at_s - due) * 1000,
        )
        for n, (due, at_s) in enumerate(zip(due_s, played_s, strict=True), start=1)
    )
    return Judgement(verdicts=verdicts, events=tuple(events))


@given(st.floats(-20, 20), st.floats(-0.3, 0.3), st.lists(st.floats(0.1, 2), min_size=8, max_size=40))
def test_a_pulse_that_is_faster_than_the_click_is_told_in_percent(percent, leans_s, lengths_s):
    """Somebody p percent faster needs 1 / (1 + p / 100) of the time."""
    due_s = list(accumulate(lengths_s))
    played_s = [leans_s + at_s / (1 + percent / 100) for at_s in due_s]
    assert ahead_percent(played_at(due_s, played_s)) == pytest.approx(percent, abs=1e-6)


def test_a_stop_makes_nobody_slower():
    due_s = [0.5 * n for n in range(16)]
    played_s = [at_s + (2 if n >= 8 else 0) for n, at_s in enumerate(due_s)]
    stop = TakeEvent(kind=EventKind.STOP, n=9, time_ms=4000)
    assert ahead_percent(played_at(due_s, played_s, [stop])) == pytest.approx(0, abs=1e-9)


def test_a_bar_gone_over_again_makes_nobody_slower_or_faster():
    """A player 2 % fast reads 16 notes, goes over the last four again, and on: the first readings count."""
    due_s = [0.5 * n for n in range(24)]
    again_s = 4 * 0.5
    played_s = [(at_s + (again_s if n >= 16 else 0)) / 1.02 for n, at_s in enumerate(due_s)]
    counted_s = [at_s + (again_s - 0.16 if n >= 16 else 0) for n, at_s in enumerate(due_s)]
    restart = TakeEvent(kind=EventKind.RESTART, n=13, time_ms=1000 * 16 * 0.5 / 1.02)
    assert ahead_percent(played_at(counted_s, played_s, [restart])) == pytest.approx(2, abs=1e-6)


def test_seven_notes_tell_nothing_of_a_pulse():
    due_s = [0.5 * n for n in range(7)]
    assert ahead_percent(played_at(due_s, due_s)) is None


def test_no_pace_is_told_where_the_times_are_not_known_or_are_those_of_another_pulse():
    """What is kept of a take may hold how far each note was off, and not when it was played."""
    due_s = [0.5 * n for n in range(1, 17)]
    assert ahead_percent(played_at(due_s, [0.0] * 16)) is None
    assert ahead_percent(played_at(due_s, [0.25 * at for at in due_s])) is None
    assert ahead_percent(played_at(due_s, [0.8 * at for at in due_s])) == pytest.approx(25, abs=1e-6)
