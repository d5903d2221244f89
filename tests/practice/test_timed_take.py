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
from game.practice.finished_take import NONE_OTHERWISE, ShownOtherwise
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


def play(take: TimedTake, *soundings: int, first: int = 0) -> None:
    for sounding, onset in zip(soundings, ONSETS[first:], strict=False):
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
    assert (finished.clean_count, finished.shown_otherwise, finished.tempo_bpm) == (6, NONE_OTHERWISE, 60)


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
    take.tick(ZERO_S + 12.0)
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


def test_a_note_that_could_not_be_told_is_unsure_until_it_turns_out_to_be_sure():
    take = begun()
    doubtful = replace(note(65, 1.0), sure=False)
    take.hear(note(53, 0.0))
    take.hear(doubtful)
    take.hear(note(57, 2.0))
    assert take.shown[2].verdict is Verdict.UNSURE
    assert take.so_far(ZERO_S + 20).judgement.verdicts[1].verdict is Verdict.UNSURE
    assert take.revise(doubtful, note(55, 1.0))
    assert take.shown[2].verdict is Verdict.CLEAN
    assert take.so_far(ZERO_S + 20).judgement.verdicts[1].verdict is Verdict.CLEAN


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


def test_who_leaves_while_the_page_still_waits_for_the_last_note_has_missed_it_and_who_is_behind_has_not():
    take = begun()
    play(take, *SOUNDINGS[:5])
    assert not take.is_over(ZERO_S + 9.0)
    assert words(take, 9.0).endswith("missed")
    behind = begun()
    for sounding, onset in zip(SOUNDINGS[:5], ONSETS, strict=False):
        behind.hear(note(sounding, onset + (0.0 if onset < 1.5 else 3.0)))
    assert behind.lean_s > 2.5
    assert words(behind, 8.5).endswith("unread")


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


def test_a_take_that_was_stopped_by_no_player_tells_of_no_restart():
    take = begun()
    play(take, *SOUNDINGS[:4])
    take.go_back(1, ZERO_S + 5.0, by_player=False)
    take.start(ZERO_S + 10.0)
    for sounding, onset in zip(SOUNDINGS[4:], ONSETS[4:], strict=True):
        take.hear(note(sounding, 10.0 + onset))
    finished = take.so_far(ZERO_S + 30)
    assert (finished.judgement.events, finished.summary.kept_going) == ((), True)


@pytest.mark.parametrize(
    ("heard_at_s", "from_s", "until_s", "lost"),
    [
        ((), 2.5, 5.5, True),
        ((3.0, 4.0), 2.5, 5.5, False),
        ((5.49, 5.5), 2.5, 5.5, True),
        ((), 4.5, 5.9, False),
        ((), 4.5, 6.2, True),
    ],
    ids=["nobody was heard", "notes kept their times", "a burst at the end", "nothing was due", "a note was due"],
)
def test_what_was_lost_while_the_game_stood_still_is_told_by_the_notes_own_times(heard_at_s, from_s, until_s, lost):
    """The rest of a long note is no loss, and what a driver delivers all at once was played nobody knows when."""
    take = begun()
    played = 5 if not heard_at_s and from_s > 4 else 3
    play(take, *SOUNDINGS[:played])
    for at_s in heard_at_s:
        take.hear(note(58, at_s))
    assert take.lost_between(ZERO_S + from_s, ZERO_S + until_s) is lost


def test_a_note_is_missed_on_the_page_when_a_later_one_was_played_and_not_before():
    take = begun()
    play(take, *SOUNDINGS[:2])
    take.tick(ZERO_S + 12.0)
    assert take.shown[3].verdict is Verdict.MISSED
    assert [note.n for note, _ in take.to_pencil(2)] == [1, 2]
    take.hear(note(60, 12.1))
    take.hear(note(62, 14.1))
    assert {note.n: shown.verdict for note, shown in take.to_pencil(1)}[3] is Verdict.MISSED


def test_a_mark_that_turns_twice_is_left_out_until_the_end():
    take = begun()
    wrong, right = note(54, 0.0), note(53, 0.0)
    take.hear(wrong)
    play(take, *SOUNDINGS[1:4], first=1)
    told = [{note.n for note, _ in take.to_pencil(1)}]
    for before, after in ((wrong, right), (right, wrong)):
        take.revise(before, after)
        take.tick(ZERO_S + 3.5)
        told.append({note.n for note, _ in take.to_pencil(1)})
    assert [1 in numbers for numbers in told] == [True, True, False]


def test_what_the_page_showed_otherwise_is_counted_apart_for_right_and_wrong():
    take = begun()
    for index, sounding in enumerate((54, 55, 57, 58, 60, 62)):
        take.hear(note(sounding, ONSETS[index]))
    take.to_pencil(2)
    take._played[0] = replace(note(53, 0.0), started_s=0.0)
    assert take.so_far(ZERO_S + 20).shown_otherwise == ShownOtherwise(right=1)


def test_the_last_note_of_a_round_that_comes_late_is_of_that_round_and_the_first_of_the_next_is_not():
    take = begun()
    play(take, *SOUNDINGS[:5])
    next_s = ZERO_S + 8.0
    assert take.claims(note(62, 8.2), next_s)
    assert not take.claims(note(53, 8.1), next_s)
    assert take.claims(note(53, 7.5), next_s), "played before the round, and delivered late"
    take.hear(note(62, 6.3))
    assert not take.claims(note(62, 9.0), next_s), "nothing is owed any more"


def test_a_bar_is_left_when_its_player_has_left_it():
    take = begun()
    play(take, *SOUNDINGS[:4])
    assert take.bar_left(ZERO_S + 4.5) == 1
    assert begun().bar_left(ZERO_S + 4.5) == 1
