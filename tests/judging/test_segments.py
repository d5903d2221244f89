"""A take cut where the player jumped, and what each jump means."""

import pytest

from game.judging.jumps import TakeJump
from game.judging.segments import segments_of, whole_beats_s
from game.judging.verdicts import EventKind

BEATS_S = (0.5,) * 20


def cut(*jumps, count=20):
    return segments_of(jumps, notes=20, count=count, beats_s=BEATS_S)


def ranges(segments):
    return [(s.from_played, s.to_played, s.from_written, s.to_written) for s in segments]


def test_a_take_without_a_jump_is_one_segment_and_no_event():
    (only,) = cut()
    assert ranges([only]) == [(0, 20, 0, 20)]
    assert (only.event, only.beats_behind_s) == (None, 0.0)


def test_a_stop_of_two_beats_goes_on_two_beats_behind():
    segments = cut(TakeJump(played=8, left=7, to=8, behind_click_s=1.03))
    assert ranges(segments) == [(0, 8, 0, 8), (8, 20, 8, 20)]
    assert (segments[1].event, segments[1].event_at) == (EventKind.STOP, 8)
    assert segments[1].beats_behind_s == pytest.approx(1.0)


def test_going_back_is_a_restart_at_the_note_gone_back_to():
    segments = cut(TakeJump(played=8, left=7, to=4, behind_click_s=2.0), count=24)
    assert ranges(segments) == [(0, 8, 0, 8), (8, 24, 4, 20)]
    assert (segments[1].event, segments[1].event_at) == (EventKind.RESTART, 4)


def test_a_skip_is_told_at_the_first_note_left_out():
    segments = cut(TakeJump(played=8, left=7, to=12, behind_click_s=-2.0), count=16)
    assert ranges(segments) == [(0, 8, 0, 8), (8, 16, 12, 20)]
    assert (segments[1].event, segments[1].event_at) == (EventKind.SKIP, 8)


def test_lateness_of_less_than_half_a_beat_is_no_event():
    segments = cut(TakeJump(played=8, left=7, to=8, behind_click_s=0.2))
    assert [segment.event for segment in segments] == [None, None]
    assert segments[1].beats_behind_s == 0.0


def test_a_second_stop_is_measured_from_the_first():
    first = TakeJump(played=5, left=4, to=5, behind_click_s=1.0)
    segments = cut(first, TakeJump(played=10, left=9, to=10, behind_click_s=1.0))
    assert [segment.event for segment in segments] == [None, EventKind.STOP, None]


@pytest.mark.parametrize(
    ("behind_click_s", "beats_s"),
    [
        (0.0, 0.0),
        (0.37, 0.0),  # less than three quarters of a beat is lateness
        (-0.37, 0.0),
        (0.45, 0.5),
        (0.62, 0.5),  # a quarter of a beat off, at most
        (0.75, None),
        (-1.1, -1.0),
        (2.0, 2.0),
    ],
)
def test_a_distance_near_whole_beats_is_taken_for_them(behind_click_s, beats_s):
    assert whole_beats_s(behind_click_s, 0.5) == beats_s


def test_with_long_beats_150_ms_is_the_most_it_may_be_off():
    assert whole_beats_s(2.15, 2.0) == 2.0
    assert whole_beats_s(2.2, 2.0) is None
