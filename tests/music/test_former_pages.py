"""The pages of before, every four bars: old logs know what was practised by their names."""

from dataclasses import replace

from game.music.former_pages import former_pages
from tests.made import bar, score

ROWS = [f"{'CDEFGAB'[index % 7]}{3 + index // 7} w" for index in range(17)]


def cuts_of(made):
    return [(page.start, page.stop) for page in former_pages(made)]


def test_they_are_four_bars_long_whatever_the_music_does():
    assert cuts_of(score(*ROWS[:16])) == [(0, 4), (4, 8), (8, 12), (12, 16)]
    assert cuts_of(score("C4 w", "D4 w", "E4 w", "F4 w ~", "~F4 w", "G4 w")) == [(0, 4), (4, 6)]


def test_the_pickup_goes_with_the_first_and_one_bar_left_with_the_last():
    made = score(*ROWS)
    assert cuts_of(made) == [(0, 4), (4, 8), (8, 12), (12, 17)]
    assert cuts_of(replace(made, bars=(bar("D4 q", number="0", pickup=True), *made.bars[:8]))) == [(0, 5), (5, 9)]


def test_what_comes_again_stands_there_again_and_silence_goes_with_a_neighbour():
    made = score(*ROWS[:4])
    assert cuts_of(replace(made, bars=(*made.bars, *made.bars))) == [(0, 4), (4, 8)]
    assert cuts_of(score(*["r w"] * 4, *ROWS[:4], *["r w"] * 4)) == [(0, 12)]
