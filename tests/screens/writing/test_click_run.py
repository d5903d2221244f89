"""The click for music the program does not know."""

from fractions import Fraction

import pytest

from game.errors import TakeError
from game.music.meter import Meter
from game.screens.writing.click_run import beat_shown, start_click
from tests.refusing import refusal


@pytest.mark.parametrize(("meter", "quarter_s"), [(Meter(), 0.75), (Meter(6, 8), 0.5), (Meter(2, 2), 0.375)])
def test_the_tempo_counts_the_beats_of_the_metre(table, meter, quarter_s):
    click = start_click(table.context, meter, 80)
    assert click.quarter_s == pytest.approx(quarter_s)
    assert click.zero_s > table.clock.now_s()


def test_the_count_goes_round_the_bar_from_the_count_in_on(table):
    click = start_click(table.context, Meter(3, 4), 60)
    shown = [beat_shown(table.context, Meter(3, 4), click.zero_s + beat + 0.01) for beat in range(-3, 5)]
    assert shown == ["1", "2", "3", "1", "2", "3", "1", "2"]


def test_a_pickup_is_the_last_beat_of_its_bar(table):
    click = start_click(table.context, Meter(), 60, pickup=Fraction(1))
    shown = [
        beat_shown(table.context, Meter(), click.zero_s + beat + 0.01, pickup=Fraction(1)) for beat in (-1, 0, 1, 2)
    ]
    assert shown == ["3", "4", "1", "2"]


def test_no_click_no_count(table):
    assert beat_shown(table.context, Meter(), 5.0) == ""


def test_a_tempo_out_of_range_is_refused(table):
    with refusal(TakeError, "tempo|beats"):
        start_click(table.context, Meter(), 5000)
