"""A take with the metronome under way."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.coach.stages import Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import EventKind, Verdict
from game.music.meter import Meter
from game.music.passage import whole_tune
from game.neck.neck_map import standard_map
from game.practice.timed_take import TimedTake, TimedTerms
from tests.made import bar, passage, score
from tests.practice.noted import Noted

MAP = standard_map()
LINE = passage("F4 q, G4 q, A4 q, Bb4 q", "C5 h, D5 h")
SOUNDINGS = (53, 55, 57, 58, 60, 62)
ONSETS = (0.0, 1.0, 2.0, 3.0, 4.0, 6.0)
ZERO_S = 100.0


def begun(*, tempo_bpm: float = 60, started: bool = True, line=LINE, **terms) -> TimedTake:
    take = TimedTake(
        passage=line,
        neck_map=MAP,
        terms=TimedTerms(**{"stage": Stage.TIME, "tempo_bpm": tempo_bpm, **terms}),
        recorder=Noted(),
    )
    if started:
        take.start(ZERO_S)
    return take


def note(sounding: int, at_s: float) -> PlayedNote:
    home = MAP.home_of(sounding)
    return PlayedNote(started_s=ZERO_S + at_s, sounding=sounding, place=home.place if home else None)


def play(take: TimedTake, *soundings: int) -> None:
    for sounding, onset in zip(soundings, ONSETS, strict=False):
        take.hear(note(sounding, onset * take.quarter_s))


def words(take: TimedTake, now_s: float) -> str:
    return " ".join(verdict.verdict.value for verdict in take.so_far(ZERO_S + now_s).judgement.verdicts)


def test_the_tempo_counts_the_metres_own_beat():
    assert begun(tempo_bpm=60).quarter_s == 1.0
    six_eight = whole_tune(replace(score("F4 w"), bars=(bar("F4 q., G4 q.", meter=Meter(6, 8)),)))
    assert begun(tempo_bpm=60, line=six_eight).quarter_s == pytest.approx(2 / 3)


def test_notes_at_their_time_are_clean_and_shown_so_at_once():
    take = begun()
    play(take, *SOUNDINGS)
    assert {n: shown.verdict for n, shown in take.shown.items()} == dict.fromkeys(range(1, 7), Verdict.CLEAN)
    finished = take.end(ZERO_S + 20)
    assert (finished.clean_count, finished.shown_otherwise, finished.tempo_bpm) == (6, 0, 60)


def test_before_the_count_in_nothing_is_part_of_the_take():
    take = begun(started=False)
    assert take.hear(note(53, 0.0)) is None
    assert not take.revise(note(53, 0.0), None)
    assert (take.heard_anything, take.recorder.calls) == (False, [])
    assert not take.is_over(1e9)


def test_notes_are_written_down_as_they_are_counted_from_time_0():
    take = begun()
    counted = take.hear(note(53, 0.25))
    assert counted is not None
    assert counted.started_s == 0.25
    assert take.recorder.calls == [("played", counted)]
    finished = take.end(ZERO_S + 20)
    assert (take.recorder.calls[-1], take.recorder.counted_from_s) == (("ended", finished), 0.0)


def test_when_time_passes_a_note_that_can_no_longer_be_answered_is_missed():
    take = begun()
    take.tick(ZERO_S + 3.0)
    assert take.shown[1].verdict is Verdict.MISSED


@given(st.lists(st.floats(0, 8), max_size=20))
def test_how_often_the_time_is_told_changes_nothing_of_the_judgement(ticks: list[float]):
    plain, ticked = begun(), begun()
    moments = sorted([(onset, sounding) for onset, sounding in zip(ONSETS, SOUNDINGS, strict=True) if sounding != 57])
    for onset, sounding in moments:
        plain.hear(note(sounding, onset))
    for at_s, sounding in sorted([*moments, *((at_s, 0) for at_s in ticks)]):
        if sounding:
            ticked.hear(note(sounding, at_s))
        else:
            ticked.tick(ZERO_S + at_s)
    assert ticked.so_far(ZERO_S + 20).judgement == plain.so_far(ZERO_S + 20).judgement


def test_a_note_that_turns_out_to_be_another_is_judged_again_with_all_that_came_since():
    take = begun()
    wrong = note(54, 0.0)
    take.hear(wrong)
    take.hear(note(55, 1.0))
    assert take.shown[1].verdict is not Verdict.CLEAN
    assert take.revise(wrong, note(53, 0.0))
    assert [take.shown[n].verdict for n in (1, 2)] == [Verdict.CLEAN, Verdict.CLEAN]
    assert not take.revise(note(80, 5.0), None), "no part of the take"
    assert take.recorder.kinds == ["played", "played", "revised"]


def test_the_position_is_in_quarter_notes_of_the_page_and_bars_are_told_by_it():
    take = begun(tempo_bpm=120)
    assert [take.position(ZERO_S + at_s) for at_s in (-1.0, 0.0, 1.0)] == [-2.0, 0.0, 2.0]
    assert [take.bar_at(ZERO_S + at_s) for at_s in (-0.1, 0.0, 1.9, 2.0, 3.9, 4.0)] == [-1, 0, 0, 1, 1, 2]


def test_with_one_note_a_click_the_page_goes_from_notehead_to_notehead():
    take = begun(stage=Stage.PLACES, one_a_click=True)
    assert [take.position(ZERO_S + at_s) for at_s in (-1, 0, 4, 4.5, 5, 6, 9)] == [-1, 0, 4, 5, 6, 7, 7]
    for click, sounding in enumerate(SOUNDINGS):
        take.hear(note(sounding, float(click)))
    assert take.so_far(ZERO_S + 20).clean_count == 6


def test_a_take_is_over_soon_after_its_last_note_which_may_come_late():
    take = begun()
    assert take.end_s == 8.0
    assert not take.is_over(ZERO_S + 8.59)
    assert take.is_over(ZERO_S + 8.61)


def test_of_a_long_last_note_two_seconds_are_waited_for():
    assert begun(tempo_bpm=40, line=passage("F4 w")).end_s == 2.0


def test_stopped_before_its_end_the_rest_is_unread_and_not_missed():
    take = begun()
    play(take, *SOUNDINGS[:3])
    assert words(take, 2.5) == "clean clean clean unread unread unread"
    assert words(take, 20.0) == "clean clean clean missed missed missed"


def test_going_back_to_a_bar_takes_out_what_was_played_from_there_and_keeps_that_it_was_so():
    take = begun()
    play(take, *SOUNDINGS[:4], 61)
    take.go_back(1, ZERO_S + 5.0)
    assert (take.zero_s, sorted(take.shown)) == (None, [1, 2, 3, 4])
    take.start(ZERO_S + 10.0)
    for sounding, onset in zip(SOUNDINGS[4:], ONSETS[4:], strict=True):
        take.hear(note(sounding, 10.0 + onset))
    finished = take.so_far(ZERO_S + 30)
    assert finished.clean_count == 6
    (restart,) = [event for event in finished.judgement.events if event.kind is EventKind.RESTART]
    assert (restart.n, restart.time_ms) == (5, 5000)


def test_in_rhythm_the_pitch_does_not_count():
    take = begun(stage=Stage.RHYTHM)
    play(take, *[64] * 6)
    assert take.so_far(ZERO_S + 20).clean_count == 6
