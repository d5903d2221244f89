"""What was read: the first reading of a note counts, and what the player did beside reading is told once.

A line of even notes of 0.4 s, two to the beat of 0.8 s, eight to the bar.
"""

from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from game.judging.answers import NO_ANSWER
from game.judging.following.follower import follow
from game.judging.read_notes import ReadNotes, nothing_read, read_followed
from game.judging.verdicts import EventKind
from tests.judging.following.rows import GAP_S, Sound, as_written, later, line_of, rows_of, steps_by_hand
from tests.sampling import how_many

BEAT_S = 2 * GAP_S
LINE = line_of(6)
COUNT = len(LINE)
PERFECT = as_written(LINE)


def read(sounds: Sequence[Sound], asked: Sequence[int] = LINE) -> ReadNotes:
    rows = rows_of(asked, sounds)
    return read_followed(rows, follow(rows), [BEAT_S] * len(asked))


def by_hand(sounds: Sequence[Sound], written: Sequence[int | None], *jumped: int) -> ReadNotes:
    rows = rows_of(LINE, sounds)
    return read_followed(rows, steps_by_hand(rows, written, *jumped), [BEAT_S] * COUNT)


def events(reading: ReadNotes) -> list[tuple[EventKind, int]]:
    return [(kind, index) for kind, index, _ in reading.events]


def test_in_a_perfect_take_each_note_answers_its_own_and_nothing_happens():
    reading = read(as_written(LINE, bias_s=0.03))
    assert reading.answers.first == list(range(COUNT))
    assert reading.answers.offsets_s == pytest.approx([0.03] * COUNT)
    assert reading.answers.used == set(range(COUNT))
    assert (reading.answers.later, reading.events) == ({}, [])
    assert reading.behind_click_s == [0.0] * COUNT
    assert reading.leans_s[8:] == pytest.approx([0.03] * (COUNT - 8), abs=0.003)


def test_of_a_silent_take_nothing_is_read():
    assert read([]) == nothing_read(COUNT)
    assert nothing_read(2).answers.first == [NO_ANSWER] * 2


def test_a_note_too_many_answers_nothing():
    reading = read([*PERFECT, (PERFECT[10][0] + 0.2, 90)])
    assert reading.answers.used == set(range(COUNT + 1)) - {11}


# The first reading counts.
def test_of_a_bar_gone_over_again_the_first_reading_counts_and_the_second_is_kept_beside_it():
    sounds = [*PERFECT[:24], *later(PERFECT[16:], 4 * BEAT_S)]
    sounds[18] = (sounds[18][0], 90)
    reading = read(sounds)
    assert reading.answers.first[:24] == list(range(24))
    assert reading.answers.later == {16 + k: [24 + k] for k in range(8)}
    assert reading.answers.first[24:] == list(range(32, 56))
    assert reading.answers.used == set(range(56))
    assert events(reading) == [(EventKind.RESTART, 16)]


def test_a_note_left_out_at_first_is_not_read_when_it_is_gone_over_again():
    """It was missed: the second time is practice."""
    sounds = [*PERFECT[:18], *PERFECT[19:24], *later(PERFECT[16:], 4 * BEAT_S)]
    reading = read(sounds)
    assert reading.answers.first[18] == NO_ANSWER
    assert 18 not in reading.answers.later
    assert len(reading.answers.used) == len(sounds)


def test_offsets_are_counted_from_where_the_player_was_when_they_read_the_note():
    sounds = as_written(LINE, bias_s=0.03)
    reading = read([*sounds[:24], *later(sounds[16:], 4 * BEAT_S)])
    assert reading.answers.offsets_s == pytest.approx([0.03] * COUNT)
    assert reading.behind_click_s == pytest.approx([0.0] * 24 + [4 * BEAT_S] * 24)


def test_notes_passed_over_lie_where_the_next_was_read_and_those_never_come_to_where_the_last_was():
    reading = read([*PERFECT[:16], *later(PERFECT[24:40], -4 * BEAT_S)])
    assert reading.behind_click_s == pytest.approx([0.0] * 16 + [-4 * BEAT_S] * 32)
    assert reading.answers.first[16:24] == [NO_ANSWER] * 8
    assert reading.answers.first[40:] == [NO_ANSWER] * 8


@given(st.lists(st.tuples(st.floats(-1.0, 12.0), st.integers(58, 70)), max_size=30), st.lists(st.integers(58, 70)))
@settings(max_examples=how_many(60, by_default=15), deadline=None)
def test_no_played_note_answers_two_and_all_that_answer_are_accounted_for(sounds: list[Sound], asked: list[int]):
    reading = read(sounds, asked)
    answers = reading.answers
    given_ = [at for at in answers.first if at != NO_ANSWER] + [at for row in answers.later.values() for at in row]
    assert len(given_) == len(set(given_))
    assert set(given_) <= answers.used <= set(range(len(sounds)))


# What happened.
def test_a_stop_is_told_where_the_note_would_have_been_due_by_the_players_clock():
    sounds = as_written(LINE, bias_s=0.05)
    reading = read([*sounds[:20], *later(sounds[20:], 3 * BEAT_S)])
    ((kind, index, at_s),) = reading.events
    assert (kind, index) == (EventKind.STOP, 20)
    assert at_s == pytest.approx(20 * GAP_S + 0.05, abs=0.005)


def test_a_beat_lost_is_a_stop_and_the_player_has_fallen_behind():
    reading = read([*PERFECT[:20], *later(PERFECT[20:], BEAT_S)])
    assert events(reading) == [(EventKind.STOP, 20), (EventKind.FELL_BEHIND, 20)]


def test_a_skip_is_told_at_the_first_note_left_out_when_the_next_is_heard():
    reading = read([*PERFECT[:16], *later(PERFECT[24:], -4 * BEAT_S)])
    assert reading.events == [(EventKind.SKIP, 16, pytest.approx(16 * GAP_S))]


def test_a_restart_is_told_at_the_note_gone_back_to_when_it_is_heard():
    reading = read([*PERFECT[:24], *later(PERFECT[16:], 5 * BEAT_S)])
    assert reading.events == [(EventKind.RESTART, 16, pytest.approx(16 * GAP_S + 5 * BEAT_S))]


@pytest.mark.parametrize(("pitch", "kind"), [(90, EventKind.REPAIR), (LINE[20], EventKind.RESTART)])
def test_going_back_to_the_last_note_repairs_it_where_it_was_wrong(pitch: int, kind: EventKind):
    sounds = [*PERFECT[:20], (20 * GAP_S, pitch), *later(PERFECT[20:], 1.0)]
    assert events(by_hand(sounds, [*range(21), *range(20, COUNT)], 21)) == [(kind, 20)]


def test_going_back_farther_is_a_restart_though_the_last_note_was_wrong():
    sounds = [*PERFECT[:20], (20 * GAP_S, 90), *later(PERFECT[18:], 2 * BEAT_S)]
    assert events(by_hand(sounds, [*range(21), *range(18, COUNT)], 21)) == [(EventKind.RESTART, 18)]


def test_two_jumps_are_two_events_in_their_order():
    once = [*PERFECT[:24], *later(PERFECT[16:], 4 * BEAT_S)]
    assert events(read([*once[:45], *later(once[45:], 2.5 * BEAT_S)])) == [
        (EventKind.RESTART, 16),
        (EventKind.STOP, 37),
    ]


# A false start.
@pytest.mark.parametrize("count", [3, 4])
def test_first_notes_a_bar_before_the_click_are_a_false_start_and_answer_nothing(count: int):
    """One or two are notes too many at first; `timed` asks whether they were those of the beginning."""
    reading = read([*later(PERFECT[:count], -4 * BEAT_S), *PERFECT])
    assert events(reading) == [(EventKind.RESTART, 0)]
    assert reading.events[0][2] == 0.0
    assert reading.answers.first == list(range(count, COUNT + count))
    assert reading.answers.used == set(range(COUNT + count))
    assert reading.answers.later == {}


def test_more_than_four_notes_before_the_click_are_a_first_reading():
    reading = read([*later(PERFECT[:6], -4 * BEAT_S), *PERFECT])
    assert reading.answers.first[:7] == [*range(6), 12]
    assert EventKind.RESTART in dict(events(reading))


def test_first_notes_with_the_click_that_are_begun_again_later_were_read():
    """Who begins again was heard at first."""
    reading = read([*PERFECT[:3], *later(PERFECT, 4 * BEAT_S)])
    assert reading.answers.first[:4] == [0, 1, 2, 6]
    assert events(reading) == [(EventKind.RESTART, 0)]


def test_after_a_false_start_coming_in_late_is_not_told_beside_it():
    reading = read([*later(PERFECT[:2], -6 * BEAT_S), *later(PERFECT, 4 * BEAT_S)])
    assert events(reading) == [(EventKind.RESTART, 0)]
    assert reading.answers.first[0] == 2
