"""The pulse of a take without a click: which note was played for which, and how fast."""

import pytest

from game.judging.pulse import FreeRows, PulseStepKind, pulse_steps

ONSETS = [0.0, 1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 5.5, 6.0, 7.0, 8.0, 9.0]
ASKED = [60, 62, 64, 65, 67, 65, 64, 62, 60, 59, 57, 60]


def steps(times_s, sounding=ASKED, *, pitch_counts=True):
    rows = FreeRows(onsets=ONSETS, asked=ASKED, times_s=times_s, sounding=sounding, pitch_counts=pitch_counts)
    return pulse_steps(rows)


def kinds(found):
    return {step.index: step.kind for step in found if step.kind is not PulseStepKind.IN_PULSE}


@pytest.mark.parametrize("quarter_s", [0.3, 0.6, 1.2])
def test_a_steady_line_is_in_the_pulse_at_any_tempo(quarter_s):
    found = steps([onset * quarter_s for onset in ONSETS])
    assert [(step.index, step.at) for step in found] == [(at, at) for at in range(12)]
    assert kinds(found) == {}
    assert found[-1].quarter_s == pytest.approx(quarter_s, rel=0.02)


def test_a_wait_is_told_from_a_stop_by_its_length():
    """From the longer of 0.6 s and a quarter note on it is a stop; here a quarter note is 0.5 s."""
    even = [onset * 0.5 for onset in ONSETS]
    waited = [at_s + (0.3 if at >= 5 else 0.0) for at, at_s in enumerate(even)]
    stopped = [at_s + (2.0 if at >= 5 else 0.0) for at, at_s in enumerate(even)]
    assert kinds(steps(waited)) == {5: PulseStepKind.SHIFTED}
    assert kinds(steps(stopped)) == {5: PulseStepKind.STOPPED}
    assert next(step for step in steps(stopped) if step.index == 5).offset_s == pytest.approx(2.0, abs=0.01)


def test_going_back_is_a_jump_and_only_where_pitches_tell():
    again = [*ASKED[:6], *ASKED[2:]]
    times_s = [*[onset * 0.5 for onset in ONSETS[:6]], *[onset * 0.5 + 2.0 for onset in ONSETS[2:]]]
    found = steps(times_s, again)
    assert [step.index for step in found] == [*range(6), *range(2, 12)]
    assert kinds(found) == {2: PulseStepKind.JUMPED}
    assert all(step.kind is not PulseStepKind.JUMPED for step in steps(times_s, [60] * 16, pitch_counts=False))


def test_a_note_too_many_answers_nothing():
    even = [onset * 0.5 for onset in ONSETS]
    found = steps([*even[:5], 1.61, *even[5:]], [*ASKED[:5], 71, *ASKED[5:]])
    assert 5 not in {step.at for step in found}
    assert [step.index for step in found] == list(range(12))


def test_a_note_left_out_leaves_the_pulse_alone():
    found = steps([onset * 0.5 for onset in ONSETS[:4] + ONSETS[5:]], ASKED[:4] + ASKED[5:])
    assert [step.index for step in found] == [0, 1, 2, 3, *range(5, 12)]
    assert kinds(found) == {}


def test_nothing_played_has_no_steps():
    assert steps([], []) == ()


SCALE = [60, 62, 64, 65, 67, 69, 71, 72]
UP_AND_DOWN = ([*SCALE, *range(74, 90, 2), *range(90, 74, -2), *SCALE[:0:-1]] * 3)[:64]
"""The same again after 31 notes."""

WANDERING = [55 + (7 * n * n + 3 * n) % 23 for n in range(64)]


def read(asked: list[int], course: list[int], times_s: list[float]) -> list[int]:
    """The written notes, from 0, that were answered by a player who played those of `course`."""
    rows = FreeRows(
        onsets=[n / 2 for n in range(len(asked))],
        asked=asked,
        times_s=times_s,
        sounding=[asked[index] for index in course],
        pitch_counts=True,
    )
    return [step.index for step in pulse_steps(rows)]


@pytest.mark.parametrize("notes_read", [20, 40, 56])
def test_who_begins_again_is_followed_to_the_top_from_anywhere(notes_read: int):
    course = [*range(notes_read), *range(64)]
    times_s = [0.3 * n + (0.9 if n >= notes_read else 0.0) for n in range(len(course))]
    assert read(WANDERING, course, times_s) == course


@pytest.mark.parametrize("left", [16, 24, 32, 40])
def test_among_places_alike_the_nearest_was_gone_to(left: int):
    """A bar of eight notes is skipped in a scale that returns: twenty-three notes back all is the same."""
    course = [*range(left), *range(left + 8, 64)]
    assert read(UP_AND_DOWN, course, [0.3 * n for n in range(len(course))]) == course
