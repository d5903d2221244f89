"""The curve through what was read: no fewer than five values make one, and its band says the truth of itself."""

import random

import pytest

from game.screens.progress.sight_curve import FEWEST, Strayed, curve_through, share_of_notes
from tests.sampling import sample


def test_fewer_than_five_values_make_no_curve():
    values = [Strayed(value=0.5)] * 5
    assert curve_through(values[:4]) == ()
    assert len(curve_through(values)) == FEWEST


def test_the_middle_lies_between_the_least_and_the_most_and_follows_what_rises():
    points = curve_through([Strayed(value=at / 10) for at in range(10)])
    middles = [point.middle for point in points]
    assert middles == sorted(middles)
    assert 0 < middles[0] < middles[-1] < 0.9


def test_the_band_keeps_in_its_bounds_and_holds_the_middle():
    for point in curve_through([share_of_notes(20, 20, 1.0)] * 6, most=1.0):
        assert 0 <= point.low <= point.middle <= point.high <= 1
        assert point.low < 1, "nothing is sure, however all of it was right"


def test_a_value_that_counts_more_pulls_the_curve_more():
    light = curve_through([Strayed(value=0.0)] * 5 + [Strayed(value=1.0, weight=1)])
    heavy = curve_through([Strayed(value=0.0)] * 5 + [Strayed(value=1.0, weight=9)])
    assert heavy[-1].middle > light[-1].middle


def test_there_is_no_share_of_no_notes():
    with pytest.raises(ValueError, match="no notes"):
        share_of_notes(0, 0, 0.5)


def read_by(chance, lines, mood):
    """Lines of a simulated reader, right and asked notes of each, whose reading rises from .55 to .9, with good and bad
    days as people have them.
    """
    sights = []
    for at in range(lines):
        likely = min(0.97, max(0.2, 0.55 + 0.35 * at / lines + chance.gauss(0, mood)))
        notes = chance.randrange(14, 34)
        sights.append((sum(chance.random() < likely for _ in range(notes)), notes))
    return sights


def curve_of(sights):
    together = sum(right for right, _ in sights) / sum(notes for _, notes in sights)
    values = [share_of_notes(right, notes, together) for right, notes in sights]
    return values, curve_through(values, most=1.0)


@pytest.mark.parametrize("mood", sample([0.0, 0.06, 0.12], by_default=1), ids="spread {}".format)
@pytest.mark.parametrize("lines", sample([8, 20], by_default=1))
def test_nine_lines_of_ten_lie_in_the_band_of_those_shown_and_of_those_to_come(lines, mood):
    """What the legend says, counted over many readers: of the dots shown at least nine of ten, and of the lines read
    next about as many (what so few teach of a rise that goes on makes it a few less); and the band of an even
    reader is narrower than two fifths, so that it says something.
    """
    chance, readers = random.Random(f"{lines} {mood}"), 200
    inside = shown = to_come = 0
    widths = []
    for _ in range(readers):
        *sights, coming = read_by(chance, lines + 1, mood)
        values, points = curve_of(sights)
        inside += sum(point.low <= one.value <= point.high for one, point in zip(values, points, strict=True))
        shown += lines
        to_come += points[-1].low <= coming[0] / coming[1] <= points[-1].high
        widths += [point.high - point.low for point in points]
    assert inside / shown >= 0.9
    assert to_come / readers >= {8: 0.78, 20: 0.88}[lines]
    assert sum(widths) / len(widths) < 0.4 + 2 * mood
