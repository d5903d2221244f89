"""Swing of what is struck beside a melody."""

from fractions import Fraction

from game.audio.click_bars import placed_bars
from game.audio.swung_places import SwungPlaces
from game.music.meter import Meter
from tests.made import bar

HALF = Fraction(1, 2)


def test_off_beat_eighths_come_as_late_as_the_melodys_own():
    places = SwungPlaces(placed_bars([bar("G4 w")]), [Fraction(0), HALF, Fraction(1), 3 + HALF], 2.0)
    assert places.of(HALF) == Fraction(2, 3)
    assert places.of(3 + HALF) == 3 + Fraction(2, 3)
    assert places.of(Fraction(1)) == 1
    assert places.of(1 + HALF) == 1 + HALF, "nothing is struck there"


def test_a_beat_that_the_melody_divides_otherwise_stays_as_written_and_so_do_compound_metres():
    """As in the judging of notes."""
    sixteenths = [Fraction(0), Fraction(1, 4), HALF, 1 + HALF]
    places = SwungPlaces(placed_bars([bar("G4 w")]), sixteenths, 1.6)
    assert places.of(HALF) == HALF
    assert places.of(1 + HALF) > 1 + HALF
    jig = SwungPlaces(placed_bars([bar("G4 h.", meter=Meter(6, 8))]), [HALF], 1.6)
    assert jig.of(HALF) == HALF


def test_straight_nothing_is_moved():
    assert SwungPlaces(placed_bars([bar("G4 w")]), [HALF], 1.0).of(HALF) == HALF
