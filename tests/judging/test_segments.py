"""From where notes are counted: the click, moved where the player jumped, and by nothing else.

A line of even notes of 0.4 s, two to the beat of 0.8 s, eight to the bar.
"""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.judging.following.followed import FollowedStep, TakeRows, TimeJump
from game.judging.following.follower import follow
from game.judging.segments import Segment, leaves_the_beat, reference_after_s, segments_of
from game.judging.verdicts import EventKind
from tests.judging.following.rows import GAP_S, Sound, as_written, later, line_of, rows_of, steps_by_hand
from tests.sampling import how_many

BEAT_S = 2 * GAP_S
LINE = line_of(6)
PERFECT = as_written(LINE)
ON = TimeJump(20, 19, 20, 1.0)
BACK = TimeJump(20, 19, 8, 5.0)


def cut(rows: TakeRows, steps: Sequence[FollowedStep]) -> list[Segment]:
    return segments_of(rows, steps, [rows.beat_s] * len(rows.due_s))


def segments(sounds: Sequence[Sound]) -> list[Segment]:
    rows = rows_of(LINE, sounds)
    return cut(rows, follow(rows))


def stopped(wait_s: float, *, bias_s: float = 0.0, drift: float = 0.0) -> list[Sound]:
    """A stop before note 20."""
    sounds = as_written(LINE, bias_s=bias_s, drift=drift)
    return [*sounds[:20], *later(sounds[20:], wait_s)]


@given(st.floats(-0.03, 0.03), st.floats(-0.1, 0.1))
@settings(max_examples=how_many(40, by_default=10), deadline=None)
def test_drift_and_bias_are_never_taken_out(drift: float, bias_s: float):
    assert segments(as_written(LINE, drift=drift, bias_s=bias_s)) == [Segment(start=0, end=len(LINE))]


@pytest.mark.parametrize("beats", [1, 2, 5])
@pytest.mark.parametrize("off_s", [-0.045, 0.0, 0.045])
@pytest.mark.parametrize("bias_s", [-0.05, 0.0, 0.08])
def test_who_stops_for_about_whole_beats_is_counted_from_whole_beats_and_keeps_their_bias(
    beats: int, off_s: float, bias_s: float
):
    before, after = segments(stopped(beats * BEAT_S + off_s, bias_s=bias_s))
    assert (before.end, after.start, after.end) == (20, 20, len(LINE))
    assert before.reference_s == 0.0
    assert after.reference_s == pytest.approx(beats * BEAT_S)
    assert (after.event, after.event_at, after.lost_a_beat) == (EventKind.STOP, 20, beats == 1)


@pytest.mark.parametrize("bias_s", [-0.05, 0.0, 0.08])
@pytest.mark.parametrize("wait_s", [0.58, 1.15, 3.0])
def test_who_goes_on_off_the_beat_is_counted_from_their_own_new_beat(wait_s: float, bias_s: float):
    """Their bias stays: it is what their offsets are from then on."""
    after = segments(stopped(wait_s, bias_s=bias_s))[1]
    assert after.reference_s == pytest.approx(wait_s, abs=0.01)
    assert after.event is EventKind.STOP


def test_a_last_note_out_of_time_before_the_stop_is_no_bias():
    """The clock leans to it; the notes before it do not."""
    sounds = stopped(1.15)
    sounds[19] = (sounds[19][0] + 0.25, sounds[19][1])
    assert segments(sounds)[-1].reference_s == pytest.approx(1.15, abs=0.001)


@pytest.mark.parametrize("off_s", [-0.19, 0.19])
def test_four_notes_of_eight_out_of_time_after_the_stop_do_not_move_the_new_beat(off_s: float):
    sounds = stopped(1.15)
    for played in (21, 22, 24, 27):
        sounds[played] = (sounds[played][0] + off_s, sounds[played][1])
    assert segments(sounds)[-1].reference_s == pytest.approx(1.15, abs=0.001)


def test_whoever_comes_in_late_is_counted_from_their_beat_as_from_the_click():
    """Not for being late alone: that is what the first note then is."""
    assert segments(later(PERFECT, 2 * BEAT_S)) == [
        Segment(start=0, end=48, reference_s=2 * BEAT_S, event=EventKind.STOP)
    ]
    (late,) = segments(later(PERFECT, 0.5 * BEAT_S))
    assert (late.reference_s, late.event) == (0.0, None)


def test_who_had_fallen_behind_before_they_stopped_goes_on_by_their_new_beat():
    """Twenty notes 3 % slower are 0.24 s behind: no habit, and no place near a beat."""
    after = segments(stopped(2 * BEAT_S, drift=0.03))[1]
    first_s = 20 * GAP_S * 0.03
    assert first_s + 2 * BEAT_S <= after.reference_s <= first_s + 2 * BEAT_S + 8 * GAP_S * 0.03
    assert after.event is EventKind.STOP


def test_a_hesitation_under_half_a_beat_begins_no_segment():
    assert segments(stopped(0.45 * BEAT_S)) == [Segment(start=0, end=len(LINE))]


@pytest.mark.parametrize("off_s", [-0.5, 0.5])
def test_a_single_note_off_its_time_begins_no_segment_though_it_was_followed_by_two_jumps(off_s: float):
    """Quarters, for between eighths no note can be that far off."""
    sounds = as_written(LINE, gap_s=BEAT_S)
    sounds[20] = (sounds[20][0] + off_s, sounds[20][1])
    rows = rows_of(LINE, sounds, gap_s=BEAT_S, beat_s=BEAT_S)
    assert cut(rows, steps_by_hand(rows, range(48), 20, 21)) == [Segment(start=0, end=48)]


def test_two_notes_at_another_beat_are_a_segment():
    sounds = as_written(LINE, gap_s=BEAT_S)
    sounds[20:22] = later(sounds[20:22], 0.5)
    rows = rows_of(LINE, sounds, gap_s=BEAT_S, beat_s=BEAT_S)
    assert [one.start for one in cut(rows, steps_by_hand(rows, range(48), 20, 22))] == [0, 20, 22]


def test_a_bar_gone_over_again_is_a_restart_counted_from_where_the_player_is():
    _, after = segments([*PERFECT[:24], *later(PERFECT[16:], 4 * BEAT_S)])
    assert (after.start, after.event, after.event_at) == (24, EventKind.RESTART, 16)
    assert after.reference_s == pytest.approx(4 * BEAT_S)


def test_a_bar_skipped_is_a_skip_at_its_first_note_counted_a_bar_ahead_of_the_click():
    _, after = segments([*PERFECT[:16], *later(PERFECT[24:], -4 * BEAT_S)])
    assert (after.start, after.event, after.event_at) == (16, EventKind.SKIP, 16)
    assert after.reference_s == pytest.approx(-4 * BEAT_S)


def test_a_bar_passed_over_in_time_is_no_event_and_the_click_goes_on():
    """The notes are missed: who comes in again where the click is has left nothing else."""
    rows = rows_of(LINE, [*PERFECT[:16], *PERFECT[24:]])
    steps = steps_by_hand(rows, [*range(16), *range(24, 48)], 16)
    assert [(found.start, found.reference_s, found.event) for found in cut(rows, steps)] == [
        (0, 0.0, None),
        (16, 0.0, None),
    ]


def test_a_beat_is_lost_between_three_quarters_of_one_and_one_and_a_half():
    lost = {share: segments(stopped(share * BEAT_S))[1].lost_a_beat for share in (0.72, 0.8, 1.0, 1.45, 1.6, 3.0)}
    assert lost == {0.72: False, 0.8: True, 1.0: True, 1.45: True, 1.6: False, 3.0: False}


def test_each_segment_begins_where_the_one_before_ends():
    sounds = stopped(2.0)
    found = segments([*sounds[:36], *later(sounds[24:], 12 * GAP_S)])
    assert [(one.start, one.end) for one in found] == [(0, 20), (20, 36), (36, 60)]


def test_of_no_steps_there_are_no_segments():
    assert cut(rows_of(LINE, []), []) == []


# The rules by themselves.
@pytest.mark.parametrize(
    ("by_s", "beat_s", "leaves"),
    [(0.41, 0.8, True), (0.39, 0.8, False), (-0.41, 0.8, True), (0.19, 0.2, False), (0.21, 0.2, True)],
)
def test_the_beat_is_left_by_half_of_it_and_by_no_less_than_200_ms(by_s: float, beat_s: float, leaves: bool):
    assert leaves_the_beat(TimeJump(5, 4, 5, by_s), beat_s) is leaves


def test_whoever_goes_elsewhere_in_the_music_leaves_the_beat_at_any_time():
    assert leaves_the_beat(TimeJump(5, 4, 7, 0.0), BEAT_S)
    assert leaves_the_beat(TimeJump(5, 4, 4, 0.0), BEAT_S)


@given(st.floats(-8, 8), st.floats(-0.1, 0.1), st.floats(0.25, 2.0))
def test_within_50_ms_of_a_whole_number_of_beats_it_is_that_number(there_s: float, own_s: float, beat_s: float):
    """Else the player's new beat; and where they stayed at the old one, that."""
    found_s = reference_after_s(BACK, there_s, own_s, 0.0, beat_s)
    beats = found_s / beat_s
    on_a_beat = (
        abs(beats - round(beats)) < 1e-9 and min(abs(there_s - found_s), abs(there_s - own_s - found_s)) < 0.0501
    )
    assert on_a_beat or found_s == pytest.approx(there_s - own_s)


@pytest.mark.parametrize(("behind_s", "reference_s"), [(0.049, 1.6), (0.051, 1.651), (-0.049, 1.6), (-0.051, 1.549)])
def test_the_edge_of_a_whole_number_of_beats_is_at_50_ms(behind_s: float, reference_s: float):
    assert reference_after_s(ON, 1.6 + behind_s, 0.0, 0.0, BEAT_S) == pytest.approx(reference_s)


def test_a_lean_of_more_than_100_ms_is_no_habit_of_the_player():
    assert reference_after_s(ON, 2.09, 0.09, 0.0, BEAT_S) == pytest.approx(2.0)
    assert reference_after_s(ON, 2.11, 0.11, 0.0, BEAT_S) == pytest.approx(2.11)


def test_who_stays_near_the_place_they_had_is_counted_as_before():
    """Half a beat is not come to, and no beat of the click near."""
    assert reference_after_s(ON, 2.3, 2.0, 2.0, BEAT_S) == 2.0
