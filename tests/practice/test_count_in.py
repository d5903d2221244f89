"""What is played in the count-in of a rhythm."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.neck.neck_map import standard_map
from game.practice.count_in import after_note, count_in_before, revised
from game.practice.timed_take import TimedTake, TimedTerms
from tests.made import passage
from tests.practice.noted import Noted

BPM = 90
BEAT_S = 60 / BPM
LINE = passage("F4 q., G4 e, A4 q, Bb4 q", "C5 q, C5 q, D5 h", "F4 q, A4 q, G4 q, Bb4 q")
RHYTHM = (0.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 9.0, 10.0, 11.0)
COUNT_IN = count_in_before(begins_s=0.0, first_due_s=0.0, beat_s=BEAT_S)


def note(at_s: float) -> PlayedNote:
    return PlayedNote(started_s=at_s, sounding=60, place=None)


def begun() -> TimedTake:
    terms = TimedTerms(stage=Stage.RHYTHM, tempo_bpm=BPM)
    take = TimedTake(passage=LINE, neck_map=standard_map(), terms=terms, recorder=Noted())
    take.start(0.0)
    return take


def played(taps: list[float], rhythm=RHYTHM) -> TimedTake:
    """A take in which these beats of the count-in are tapped, then the rhythm is played."""
    take = begun()
    for beat in (*sorted(taps), *rhythm):
        take.hear(note(beat * BEAT_S))
    return take


@given(st.lists(st.floats(-4.3, -0.55), max_size=9))
def test_whoever_plays_in_the_count_in_and_then_the_rhythm_is_judged_as_if_they_had_waited(taps):
    take, waited = played(taps), played([])
    assert take.shown == waited.shown
    assert take.end(12.0).judgement == waited.end(12.0).judgement
    assert take.recorder.calls[: len(RHYTHM)] == waited.recorder.calls[: len(RHYTHM)]


@given(st.lists(st.floats(-4.3, -0.55), max_size=9))
def test_nothing_turns_to_ink_before_the_music_begins(taps):
    take = begun()
    for beat in sorted(taps):
        assert take.hear(note(beat * BEAT_S)) is None
        take.tick(beat * BEAT_S)
        assert not take.to_ink()
    assert not take.heard_anything
    assert take.recorder.calls == []


def test_who_comes_in_a_beat_early_and_goes_on_so_has_played_the_first_note_early_and_not_missed_it():
    take = played([], rhythm=[beat - 1 for beat in RHYTHM])
    judgement = take.end(12.0).judgement
    assert [bool(verdict.answers) for verdict in judgement.verdicts] == [True] * len(RHYTHM)
    assert judgement.verdicts[0].answers[0].started_s == pytest.approx(-BEAT_S)


def test_a_first_note_that_comes_in_as_early_as_people_do_is_heard_at_once():
    take = begun()
    assert take.hear(note(-0.3)) is not None
    assert take.shown[1].answers[0].started_s == -0.3


def test_after_a_pause_the_new_count_in_is_no_part_of_the_music_either():
    take = played([], rhythm=RHYTHM[:6])
    take.go_back(1, 6 * BEAT_S)
    take.start(100.0)
    for beat in (0.0, 1.0, 2.0, 3.0):
        assert take.hear(note(100.0 + beat * BEAT_S)) is None
    for beat in RHYTHM[4:]:
        take.hear(note(100.0 + beat * BEAT_S))
    assert all(verdict.answers for verdict in take.end(112.0).judgement.verdicts)
    assert len(take.so_far(112.0).played) == len(RHYTHM)


def test_where_the_pitch_tells_what_a_note_is_for_all_of_it_is_heard():
    take = begun()
    in_time = TimedTake(passage=LINE, neck_map=standard_map(), terms=replace(take.terms, stage=Stage.TIME))
    in_time.start(0.0)
    assert in_time.hear(note(-2.0)) is not None


def test_a_note_of_the_count_in_that_turns_out_to_be_none_is_forgotten():
    held, of_music = after_note(COUNT_IN, note(-1.0))
    assert (held.held, of_music) == ((note(-1.0),), ())
    assert revised(held, note(-1.0), None).held == ()
    assert revised(held, note(-1.0), note(-1.1)).held == (note(-1.1),)
    assert after_note(revised(held, note(-1.0), None), note(1.0))[1] == (note(1.0),)


@pytest.mark.parametrize(("beat_s", "opens_s"), [(0.2, -0.1), (0.6, -0.3), (2.0, -0.4)])
def test_the_music_opens_half_a_beat_before_it_begins_and_never_sooner_than_a_tap_on_eighths(beat_s, opens_s):
    count_in = count_in_before(begins_s=0.0, first_due_s=0.0, beat_s=beat_s)
    assert count_in.opens_s == pytest.approx(opens_s)
