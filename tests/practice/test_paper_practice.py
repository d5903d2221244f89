"""Bars counted by the click alone."""

import pytest

from game.music.meter import Meter
from game.practice.paper_practice import OwnWord, PaperPiece, bar_of_click, bar_s, taken

PIECE = PaperPiece(title="x", bars=4, meter=Meter(), tempo_bpm=60)


@pytest.mark.parametrize(
    ("meter", "seconds"), [(Meter(), 4.0), (Meter(3, 4), 3.0), (Meter(6, 8), 2.0), (Meter(5, 4), 5.0)]
)
def test_a_bar_is_as_long_as_its_beats(meter, seconds):
    assert bar_s(PaperPiece(meter=meter, tempo_bpm=60)) == pytest.approx(seconds)


@pytest.mark.parametrize(
    ("passed_s", "bar"), [(-0.1, 0), (0.0, 1), (3.9, 1), (4.0, 2), (15.9, 4), (16.0, 5), (99.0, 5)]
)
def test_the_bar_of_the_click(passed_s, bar):
    assert bar_of_click(PIECE, passed_s) == bar


@pytest.mark.parametrize(
    ("passed_s", "bars", "seconds"), [(-3.0, 0, 0.0), (3.0, 0, 3.0), (3.99, 1, 3.99), (11.0, 2, 11.0), (99.0, 4, 16.0)]
)
def test_only_whole_bars_were_played_and_no_more_than_there_are(passed_s, bars, seconds):
    take = taken(PIECE, passed_s, OwnWord.WELL)
    assert (take.bars_played, take.seconds, take.word) == (bars, seconds, OwnWord.WELL)
