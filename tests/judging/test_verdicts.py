"""A take in figures. Median and standard deviation are checked by numpy."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.instrument.decoding.played import PlayedNote
from game.judging.expected import expected_notes
from game.judging.verdicts import EventKind, Judgement, NoteVerdict, TakeEvent, Verdict, summary_of
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


def test_the_first_answer_is_the_one_that_decides():
    notes = tuple(PlayedNote(started_s=at_s, sounding=60, place=None) for at_s in (1.0, 2.0))
    assert NoteVerdict(n=1, verdict=Verdict.CLEAN, answers=notes).first is notes[0]
    assert NoteVerdict(n=1, verdict=Verdict.MISSED).first is None
