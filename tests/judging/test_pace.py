"""Who ran ahead of the click or fell behind it, little by little, is told so; their notes are right all the same.

Lines of quarters at 75 a minute: the beat is 0.8 s, its tolerance the largest there is, 150 ms.
"""

from collections.abc import Sequence
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.judging.answers import NO_ANSWER
from game.judging.pace import pace_events
from game.judging.read_notes import ReadNotes, nothing_read
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.verdicts import EventKind
from tests.judging.made_takes import written_line

AHEAD, BEHIND = EventKind.RAN_AHEAD, EventKind.FELL_BEHIND


def grid_of(count: int, tempo_bpm: float = 75) -> TimedGrid:
    return timed_grid(written_line([60] * count, [Fraction(1)] * count), tempo_bpm=tempo_bpm)


def reading_of(leans_s: Sequence[float | None]) -> ReadNotes:
    """A player who was so far behind the click at each note; None where a note was missed."""
    reading = nothing_read(len(leans_s))
    played = 0
    for index, lean_s in enumerate(leans_s):
        reading.leans_s[index] = lean_s or 0.0
        if lean_s is not None:
            reading.answers.first[index] = played
            played += 1
    return reading


def told(
    leans_s: Sequence[float | None], *events: tuple[EventKind, int, float], tempo_bpm: float = 75
) -> list[tuple[EventKind, int]]:
    """What is told, and of which written note."""
    grid, reading = grid_of(len(leans_s), tempo_bpm), reading_of(leans_s)
    reading.events.extend(events)
    times_s = [onset_s + lean_s for onset_s, lean_s in zip(grid.onsets_s, leans_s, strict=True) if lean_s is not None]
    found = list(pace_events(times_s, reading, grid))
    answered = {index: at for index, at in enumerate(reading.answers.first) if at != NO_ANSWER}
    assert all(at_s == times_s[answered[index]] for _, index, at_s in found)
    return [(kind, index) for kind, index, _ in found]


def test_who_keeps_their_place_is_told_nothing_wherever_that_is():
    assert told([0.0] * 12) == told([0.3] * 12) == told([-0.3] * 12) == []


def test_who_falls_behind_is_told_so_once_at_the_first_note_that_far_behind():
    leans_s = [0.0] * 6 + [0.02 * n for n in range(20)]
    assert told(leans_s) == [(BEHIND, 6 + 8)]


def test_who_runs_ahead_is_told_so():
    assert told([0.0] * 6 + [-0.02 * n for n in range(20)]) == [(AHEAD, 14)]


@given(st.lists(st.floats(-0.149, 0.149), min_size=8, max_size=20))
def test_within_the_tolerance_of_the_beat_of_a_steady_beginning_nothing_is_told(leans_s: list[float]):
    assert told([0.0] * 4 + leans_s) == []


@given(st.lists(st.floats(-0.5, 0.5), min_size=5, max_size=30))
def test_the_mirror_image_of_a_take_is_told_the_other_way(leans_s: list[float]):
    other = {AHEAD: BEHIND, BEHIND: AHEAD}
    assert told([-lean_s for lean_s in leans_s]) == [(other[kind], index) for kind, index in told(leans_s)]


@pytest.mark.parametrize(
    ("tempo_bpm", "within_s", "beyond_s"),
    [(40, 0.149, 0.151), (75, 0.149, 0.151), (120, 0.124, 0.126), (240, 0.062, 0.063), (320, 0.059, 0.061)],
)
def test_the_tolerance_is_a_quarter_of_a_beat_within_60_and_150_ms(tempo_bpm, within_s: float, beyond_s: float):
    assert told([0.0] * 6 + [within_s] * 6, tempo_bpm=tempo_bpm) == []
    assert told([0.0] * 6 + [beyond_s] * 6, tempo_bpm=tempo_bpm) == [(BEHIND, 6)]


@pytest.mark.parametrize(("notes", "events"), [(3, []), (4, [(BEHIND, 6)])])
def test_it_takes_four_notes(notes: int, events: list[tuple[EventKind, int]]):
    assert told([0.0] * 6 + [0.2] * notes + [0.0] * 6) == events


def test_four_notes_on_either_side_are_no_four_notes():
    assert told([0.0] * 6 + [0.2, 0.2, -0.2, -0.2] * 4) == []


def test_it_is_told_again_only_after_the_player_came_back():
    """Half way back to their place at least."""
    away, near, back = [0.2] * 5, [0.1] * 5, [0.05] * 5
    assert told([0.0] * 4 + away + near + away) == [(BEHIND, 4)]
    assert told([0.0] * 4 + away + back + away) == [(BEHIND, 4), (BEHIND, 14)]


def test_who_falls_behind_and_then_runs_ahead_is_told_both():
    assert told([0.0] * 4 + [0.2] * 5 + [-0.2] * 5) == [(BEHIND, 4), (AHEAD, 9)]


def test_who_sways_through_a_whole_take_is_not_given_a_list_of_it():
    """Twice each way is enough; after a stop it is told anew."""
    swaying = [0.0] * 4 + ([0.2] * 5 + [-0.2] * 5) * 6
    assert told(swaying) == [(BEHIND, 4), (AHEAD, 9), (BEHIND, 14), (AHEAD, 19)]
    assert len(told(swaying * 2, (EventKind.STOP, len(swaying), 0.0))) == 8


def test_missed_notes_neither_count_nor_break_a_row():
    assert told([0.0] * 6 + [0.2, None, 0.2, None, 0.2]) == []
    assert told([0.0] * 6 + [0.2, None, 0.2, None, 0.2, 0.2]) == [(BEHIND, 6)]


@pytest.mark.parametrize("kind", [EventKind.STOP, EventKind.RESTART, EventKind.SKIP])
def test_where_the_player_stopped_or_went_elsewhere_they_have_a_new_place(kind: EventKind):
    """From there on the old one is told as an event of its own, if at all."""
    leans_s = [0.0] * 8 + [0.3] * 8
    assert told(leans_s) == [(BEHIND, 8)]
    assert told(leans_s, (kind, 8, 6.4)) == []


def test_who_went_back_has_a_new_place_from_where_they_read_on():
    """Notes 4 to 7 were read before: they belong to the place before, though the player went back to note 4."""
    leans_s = [-0.03 * n for n in range(8)] + [0.0] * 8
    assert told(leans_s, (EventKind.RESTART, 4, 6.3)) == []
    assert told([-0.08 * n for n in range(8)] + [0.0] * 8, (EventKind.RESTART, 4, 6.0)) == [(AHEAD, 4)]


def test_a_repair_gives_no_new_place():
    assert told([0.0] * 8 + [0.3] * 8, (EventKind.REPAIR, 8, 6.4)) == [(BEHIND, 8)]


def test_in_each_stretch_it_is_told_anew():
    drifting = [0.03 * n for n in range(12)]
    assert [kind for kind, _ in told(drifting * 2, (EventKind.STOP, 12, 9.6))] == [BEHIND, BEHIND]


def test_a_few_notes_make_no_pace():
    assert told([0.0, 0.4, 0.4, 0.4]) == told([]) == told([None] * 8) == []


def test_where_the_metre_changes_the_tolerance_is_that_of_the_beat_there():
    """Behind by 100 ms: out of a fast beat, within a slow one."""
    slow, fast = grid_of(20, 75), grid_of(20, 320)
    reading = reading_of([0.0] * 4 + [0.1] * 16)
    mixed = TimedGrid(
        onsets_s=slow.onsets_s,
        early_s=slow.early_s,
        late_s=slow.late_s,
        beats_s=(*slow.beats_s[:10], *fast.beats_s[10:]),
        beat_positions=slow.beat_positions,
        off_beats=slow.off_beats,
    )
    assert [index for _, index, _ in pace_events(slow.onsets_s, reading, slow)] == []
    assert [index for _, index, _ in pace_events(slow.onsets_s, reading, mixed)] == [10]
