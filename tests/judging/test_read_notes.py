"""Which played note decides which written note: straight through, and segment by segment."""

import pytest

from game.judging.alignment_timed import NO_ANSWER, TimedRows
from game.judging.read_notes import read_segments, read_straight
from game.judging.segments import Segment
from game.judging.verdicts import EventKind

DUE_S = [0.0, 0.5, 1.0, 1.5, 2.0, 2.5]
ASKED = [60, 62, 64, 65, 67, 69]


def rows(*played):
    """The six notes above, and what was played: times and pitches."""
    return TimedRows(
        due_s=DUE_S, asked=ASKED, times_s=[at_s for at_s, _ in played], sounding=[pitch for _, pitch in played]
    )


def read(made, *segments):
    return read_segments(made, segments, 0.0, 0.3)


def test_a_take_straight_through_keeps_its_pairs_and_their_offsets():
    made = rows((0.02, 60), (1.1, 64))
    reading = read_straight(made, [0, NO_ANSWER, 1, NO_ANSWER, NO_ANSWER, NO_ANSWER])
    assert reading.answers.offsets_s == pytest.approx([0.02, 0.0, 0.1, 0.0, 0.0, 0.0])
    assert reading.behind_click_s == [0.0] * 6
    assert reading.events == []


def test_after_a_stop_offsets_count_from_whole_beats_behind():
    made = rows((0.0, 60), (0.5, 62), (1.0, 64), (2.52, 65), (3.0, 67), (3.5, 69))
    stopped = Segment(
        from_played=3, to_played=6, from_written=3, to_written=6,
        behind_click_s=1.02, beats_behind_s=1.0, event=EventKind.STOP, event_at=3,
    )  # fmt: skip
    reading = read(made, Segment(from_played=0, to_played=3, from_written=0, to_written=3), stopped)
    assert reading.answers.first == [0, 1, 2, 3, 4, 5]
    assert reading.answers.offsets_s[3:] == pytest.approx([0.02, 0.0, 0.0])
    assert reading.behind_click_s == [0.0] * 3 + [1.0] * 3
    assert reading.events == [(EventKind.STOP, 3, pytest.approx(1.5))]


def test_off_the_beat_a_segment_is_judged_by_its_own_pulse():
    made = rows((0.0, 60), (0.5, 62), (1.0, 64), (2.25, 65), (2.75, 67), (3.25, 69))
    lost = Segment(
        from_played=3, to_played=6, from_written=3, to_written=6,
        behind_click_s=0.75, beats_behind_s=None, event=EventKind.STOP, event_at=3,
    )  # fmt: skip
    reading = read(made, Segment(from_played=0, to_played=3, from_written=0, to_written=3), lost)
    assert reading.answers.offsets_s == pytest.approx([0.0] * 6)
    assert reading.behind_click_s[3:] == pytest.approx([0.75] * 3)


def gone_back(first_pitch):
    """Notes 1 and 2, then again from note 2, a beat later."""
    made = rows((0.0, 60), (0.5, first_pitch), (1.0, 62), (1.5, 64), (2.0, 65), (2.5, 67), (3.0, 69))
    again = Segment(
        from_played=2, to_played=7, from_written=1, to_written=6,
        behind_click_s=0.5, beats_behind_s=0.5, event=EventKind.RESTART, event_at=1,
    )  # fmt: skip
    return read(made, Segment(from_played=0, to_played=2, from_written=0, to_written=2), again)


def test_the_first_reading_of_a_note_counts_and_the_second_is_kept_beside_it():
    reading = gone_back(62)
    assert reading.answers.first == [0, 1, 3, 4, 5, 6]
    assert reading.answers.later == {1: [2]}
    assert [kind for kind, *_ in reading.events] == [EventKind.RESTART]


def test_going_back_to_a_wrong_note_at_once_repairs_it():
    assert [kind for kind, *_ in gone_back(61).events] == [EventKind.REPAIR]


def test_a_few_first_notes_off_the_click_are_a_false_start():
    made = rows((-0.8, 60), (0.0, 60), (0.5, 62))
    early = Segment(from_played=0, to_played=1, from_written=0, to_written=1, behind_click_s=-0.8, beats_behind_s=None)
    reading = read(made, early, Segment(from_played=1, to_played=3, from_written=0, to_written=6))
    assert reading.answers.first[:2] == [1, 2]
    assert reading.answers.used == {0, 1, 2}
    assert reading.events == [(EventKind.RESTART, 0, 0.0)]
