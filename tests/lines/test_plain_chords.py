"""Plain chords under tunes along the scale."""

from random import Random

import pytest

from game.lines.levels import LEVELS
from game.lines.plain_chords import plain_chords
from game.lines.scale import key_named, scale_of
from tests.lines.making import MAP


@pytest.mark.parametrize("key", ["F", "Dm"])
def test_plain_chords_open_away_from_home_and_close_on_it(key):
    scale = scale_of(key_named(key), MAP)
    for level in LEVELS[:5]:
        for seed in range(30):
            rows = [chord.symbol(0).text for chord in plain_chords(level, scale, (4, 4), Random(seed))]
            assert rows[0] == rows[-1] == key
            assert rows[3] != key


def test_in_the_minor_the_leading_note_waits_for_the_level_of_accidentals():
    scale = scale_of(key_named("Dm"), MAP)
    fifths = [
        {chord.symbol(0).text for seed in range(20) for chord in plain_chords(level, scale, (4, 4), Random(seed))}
        for level in LEVELS[:5]
    ]  # fmt: skip
    assert all("Am" in found and "A7" not in found for found in fifths[:4])
    assert "A7" in fifths[4]
