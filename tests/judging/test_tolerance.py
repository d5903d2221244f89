"""When notes are due by the click, and how far from that they are still in time."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from game.errors import TakeError
from game.judging.tolerance import BarSpan, bar_spans, in_time, timed_grid, tolerance_ms
from game.music.meter import Meter
from tests.judging.made_takes import written_line
from tests.made import bar
from tests.refusing import refusal

HALF, ONE = Fraction(1, 2), Fraction(1)


@pytest.mark.parametrize(
    ("beat_ms", "gap_ms", "expected_ms"),
    [
        (500, None, 125),  # a quarter of a beat
        (200, None, 60),  # never under 60 ms
        (1000, None, 150),  # never over 150 ms
        (500, 1000, 125),
        (500, 250, 112.5),  # 45 % of the gap is less than a quarter of the beat
        (300, 100, 45),  # the gap overrules the 60 ms as well
    ],
)
def test_tolerance_is_a_quarter_of_a_beat_within_bounds_and_under_the_gap(
    beat_ms: float, gap_ms: float | None, expected_ms: float
) -> None:
    assert tolerance_ms(beat_ms, gap_ms) == pytest.approx(expected_ms, abs=0.01)


@given(st.floats(100, 3000), st.floats(1, 4000))
def test_tolerance_always_stays_under_its_share_of_the_gap(beat_ms: float, gap_ms: float) -> None:
    assert tolerance_ms(beat_ms, gap_ms) < 0.45 * gap_ms or gap_ms < 0.01
    assert tolerance_ms(beat_ms, gap_ms) <= 150


def test_notes_are_due_at_their_onsets_in_quarter_notes_at_the_tempo() -> None:
    grid = timed_grid(written_line([60, 62, 64], [ONE, HALF, HALF]), tempo_bpm=120)
    assert grid.onsets_s == pytest.approx((0.0, 0.5, 0.75))


def test_a_passage_may_begin_in_the_middle_of_a_tune() -> None:
    grid = timed_grid(written_line([60, 62], [ONE, ONE]), tempo_bpm=60, start=Fraction(-2))
    assert grid.onsets_s == pytest.approx((2.0, 3.0))


def test_the_beat_of_six_eight_is_the_dotted_quarter() -> None:
    line = written_line([60, 62], [Fraction(3, 2), Fraction(3, 2)])
    in_four = timed_grid(line, tempo_bpm=200)
    in_six_eight = timed_grid(line, tempo_bpm=200, spans=[BarSpan(start=Fraction(0), meter=Meter(6, 8))])
    assert in_four.late_s[0] == pytest.approx(0.075)
    assert in_six_eight.late_s[0] == pytest.approx(0.1125)


def test_swung_off_beats_come_late_by_the_ratio_and_nothing_else_does() -> None:
    line = written_line([60, 62, 64, 65], [HALF, HALF, ONE, ONE])
    grid = timed_grid(line, tempo_bpm=60, swing=1.6)
    assert grid.onsets_s == pytest.approx((0.0, 1.6 / 2.6, 1.0, 2.0))


def test_triplets_and_dotted_eighths_are_not_swung() -> None:
    third, dotted = Fraction(1, 3), Fraction(3, 4)
    line = written_line([60] * 5, [third, third, third, dotted, Fraction(1, 4)])
    assert timed_grid(line, tempo_bpm=60, swing=1.6).onsets_s == timed_grid(line, tempo_bpm=60).onsets_s


def test_compound_time_is_not_swung() -> None:
    spans = [BarSpan(start=Fraction(0), meter=Meter(6, 8))]
    line = written_line([60] * 6, [HALF] * 6)
    swung = timed_grid(line, tempo_bpm=60, swing=1.6, spans=spans)
    assert swung.onsets_s == timed_grid(line, tempo_bpm=60, spans=spans).onsets_s


def test_an_eighth_note_pickup_is_an_off_beat() -> None:
    bars = (bar("G4 e", pickup=True), bar("C5 q, D5 q, E5 q, F5 q"))
    line = written_line([67, 72], [HALF, ONE])
    grid = timed_grid(line, tempo_bpm=60, swing=1.6, spans=bar_spans(bars))
    assert grid.onsets_s == pytest.approx((1.6 / 2.6 - 0.5, 0.5))


@pytest.mark.parametrize("ratio", [1.0, 1.3, 1.6, 2.0, 2.2])
def test_a_swung_off_beat_is_in_time_anywhere_from_straight_to_two_point_two(ratio: float) -> None:
    for tempo in (60, 120, 180, 240):
        grid = timed_grid(written_line([60, 62, 64], [HALF, HALF, ONE]), tempo_bpm=tempo, swing=1.6)
        played_s = ratio / (1 + ratio) * 60 / tempo
        assert in_time(grid, 1, played_s - grid.onsets_s[1])


def test_both_edges_of_the_tolerance_are_in_time() -> None:
    grid = timed_grid(written_line([60, 62], [ONE, ONE]), tempo_bpm=120)
    assert in_time(grid, 0, 0.125)
    assert in_time(grid, 0, -0.125)
    assert not in_time(grid, 0, 0.1251)


def test_player_or_teacher_may_set_the_tolerance() -> None:
    grid = timed_grid(written_line([60, 62], [ONE, ONE]), tempo_bpm=120, window_ms=50)
    assert grid.early_s == grid.late_s == (0.05, 0.05)


@pytest.mark.parametrize("tempo_bpm", [0, -60, 19, 401, float("nan")])
def test_a_tempo_out_of_range_is_refused_with_the_range(tempo_bpm: float) -> None:
    with refusal(TakeError, "give 20 to 400 quarter notes a minute"):
        timed_grid(written_line([60], [ONE]), tempo_bpm=tempo_bpm)


def test_eighths_may_be_counted_as_slowly_as_quarters() -> None:
    spans = (BarSpan(start=Fraction(0), meter=Meter(3, 8)),)
    grid = timed_grid(written_line([60, 62], [ONE, ONE]), tempo_bpm=15, spans=spans)
    assert grid.onsets_s == (0.0, 4.0)
    with refusal(TakeError, "give 10 to 400 quarter notes a minute"):
        timed_grid(written_line([60], [ONE]), tempo_bpm=9, spans=spans)


@pytest.mark.parametrize("swing", [0, 0.9, 3.6, float("nan")])
def test_a_swing_out_of_range_is_refused_with_the_range(swing: float) -> None:
    with refusal(TakeError, r"give long:short from 1 \(straight\) to 3.5"):
        timed_grid(written_line([60], [ONE]), tempo_bpm=60, swing=swing)
