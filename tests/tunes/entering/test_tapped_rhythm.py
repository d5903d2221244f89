"""Taps become the onsets that were meant."""

from fractions import Fraction
from random import Random

import pytest

from game.music.meter import Meter
from game.tunes.entering.tapped_rhythm import (
    Tap,
    TappedOnset,
    TapRun,
    cell_of,
    hand_at,
    single_taps,
    tapped,
    without_tap,
    written_line,
)
from game.tunes.library.library import open_entry, shipped_entries
from tests.sampling import how_many, sample
from tests.tunes.entering.made_drafts import METERS, made_onsets
from tests.tunes.entering.made_taps import QUARTER_S, taps
from tests.tunes.entering.tapped_tunes import can_be_tapped, tapped_by_hand

THIRD = Fraction(1, 3)


def run_of(made, start=Fraction(0)) -> TapRun:
    return TapRun(start=start, zero_s=100.0, quarter_s=QUARTER_S, taps=tuple(made))


def places(line) -> list:
    return [onset.at for onset in line.onsets]


def test_taps_on_the_click_stand_where_they_were_tapped():
    wanted = [Fraction(0), Fraction(1), Fraction(3, 2), Fraction(2), Fraction(11, 4), Fraction(4), Fraction(5)]
    assert places(written_line(run_of(taps(wanted)), Meter())) == wanted


def test_triplets_are_heard_as_triplets():
    wanted = [Fraction(0), THIRD, 2 * THIRD, Fraction(1), Fraction(2), 2 + THIRD, 2 + 2 * THIRD, Fraction(3)]
    assert places(written_line(run_of(taps(wanted, spread_s=0.01)), Meter())) == wanted


def test_swung_eighths_are_written_straight_and_said_to_be_swung():
    """At 1.6:1, which is how melodies are swung at medium tempi (trade)."""
    late = Fraction(8, 13)
    played = [beat + part for beat in range(8) for part in (Fraction(0), late)]
    line = written_line(run_of(taps(played, spread_s=0.008)), Meter())
    assert places(line) == [Fraction(half, 2) for half in range(16)]
    assert line.swing == pytest.approx(1.6, abs=0.15)


def test_a_few_swung_eighths_are_enough_where_the_player_says_that_they_are_swung():
    played = [Fraction(0), Fraction(8, 13), Fraction(1), Fraction(2)]
    assert places(written_line(run_of(taps(played)), Meter(), swung=True))[1] == Fraction(1, 2)


def test_whoever_leans_from_the_click_all_the_time_is_written_on_it():
    wanted = [Fraction(half, 2) for half in (0, 2, 3, 4, 6, 7, 8, 10, 12)]
    for late_s in (-0.09, -0.05, 0.05, 0.09):
        assert places(written_line(run_of(taps(wanted, late_s=late_s)), Meter())) == wanted


def test_a_tap_a_little_before_the_click_begins_is_the_first_one():
    assert places(written_line(run_of(taps([Fraction(0), Fraction(1)], late_s=-0.05)), Meter())) == [0, 1]


def test_what_is_tapped_in_the_count_in_does_not_count():
    made = (Tap(at_s=98.5), Tap(at_s=99.25), *taps([Fraction(0)]))
    assert len(single_taps(run_of(made))) == 1


def test_a_string_that_is_caught_twice_is_one_tap():
    made = [Tap(at_s=100.0), Tap(at_s=100.04), Tap(at_s=100.75), Tap(at_s=100.80)]
    assert places(written_line(run_of(made), Meter())) == [0, 1]


def test_taps_that_are_told_late_stand_in_their_order():
    run = tapped(tapped(run_of(()), Tap(at_s=101.0)), Tap(at_s=100.0))
    assert [tap.at_s for tap in run.taps] == [100.0, 101.0]
    assert without_tap(run, Tap(at_s=100.0)).taps == (Tap(at_s=101.0),)


def test_a_rest_and_a_note_in_one_place_are_the_note():
    made = [Tap(at_s=100.0), Tap(at_s=100.74, rest=True), Tap(at_s=100.82)]
    line = written_line(run_of(made), Meter())
    assert line.onsets[-1] == TappedOnset(at=Fraction(1), rest=False)


def test_rhythms_of_every_metre_are_written_as_they_are_meant_by_a_hand_with_a_spread():
    """20 ms to either side of the click is what people do who can keep a beat (trade). Here at 80 quarters a minute, or
    80 eighths where the metre counts eighths; of a hundred notes one may be another.
    """
    meant = found = 0
    for seed in range(how_many(300, by_default=20)):
        chance = Random(seed)
        meter = chance.choice(METERS)
        onsets = [onset.at for onset in made_onsets(chance, Fraction(0), meter.bar_length * 8, cell_of(meter))]
        quarter_s = QUARTER_S / float(cell_of(meter))
        run = TapRun(
            start=Fraction(0),
            zero_s=100.0,
            quarter_s=quarter_s,
            taps=taps(onsets, quarter_s=quarter_s, spread_s=0.015, late_s=chance.uniform(-0.04, 0.04), seed=seed),
        )
        written = set(places(written_line(run, meter, swung=False)))
        meant += len(onsets)
        found += len(written & set(onsets))
    assert found >= 0.99 * meant


def test_tunes_of_the_book_tapped_by_a_usual_hand_are_written_as_they_are():
    """Off by 15 ms and leaning by up to 40; of a hundred notes hardly one is another. Figures: `.bench.entering`."""
    tunes = [score for score in map(open_entry, sample(shipped_entries(), by_default=6)) if can_be_tapped(score)]
    tapped_so = [tapped_by_hand(score, seed, bpm=80, spread_s=0.015, lean_s=0.04) for seed, score in enumerate(tunes)]
    assert sum(one.right for one in tapped_so) >= 0.99 * sum(one.notes for one in tapped_so)
    assert sum(one.whole for one in tapped_so) >= 0.8 * len(tapped_so)


def test_short_cells_are_tapped_less_exactly_and_divided_less():
    long, short = hand_at(0.75), hand_at(0.25)
    assert short.spread > long.spread
    assert short.fine_cost > long.fine_cost == 1.0
