"""Where bass and chords are struck in each metre."""

from fractions import Fraction

import pytest

from game.audio.patterns import BandPart, bar_pattern, manner_of
from game.music.accompanying import Manner
from game.music.meter import MAX_BEATS, UNITS, Meter


def struck(meter: tuple[int, int], manner: Manner = Manner.TWO_BEAT) -> str:
    """Quarters with a bass, a chord or both: "0b 1c"."""
    return " ".join(f"{float(one.at):g}{one.part.value[0]}" for one in bar_pattern(Meter(*meter), manner))


@pytest.mark.parametrize(
    ("meter", "expected"),
    [
        ((4, 4), "0b 1c 2b 3c"),
        ((2, 4), "0b 1c"),
        ((2, 2), "0b 1c 2b 3c"),
        ((3, 4), "0b 1c 2c"),
        ((3, 2), "0b 2c 4c"),
        ((3, 8), "0b 0.5c 1c"),
        ((6, 8), "0b 1c 1.5b 2.5c"),
        ((9, 8), "0b 1c 1.5b 2.5c 3b 4c"),
        ((6, 4), "0b 1c 2c 3b 4c 5c"),
        ((5, 4), "0b 1c 2c 3b 4c"),
        ((5, 8), "0b 0.5c 1c 1.5b 2c"),
        ((7, 8), "0b 0.5c 1b 1.5c 2b 2.5c 3c"),
        ((7, 4), "0b 1c 2b 3c 4b 5c 6c"),
        ((8, 8), "0b 1c 2b 3c"),
        ((1, 4), "0b"),
    ],
)
def test_each_metre_has_bass_and_chords_in_its_own_way(meter, expected):
    assert struck(meter) == expected


def test_four_beat_has_the_bass_on_every_beat_and_bossa_its_off_beats_where_there_are_four():
    assert struck((4, 4), Manner.FOUR_BEAT) == "0b 1b 1c 2b 3b 3c"
    assert struck((2, 2), Manner.FOUR_BEAT) == struck((4, 4), Manner.FOUR_BEAT)
    assert struck((4, 4), Manner.BOSSA) == "0b 0c 1c 1.5b 2b 2.5c 3.5b"
    for manner in (Manner.FOUR_BEAT, Manner.BOSSA):
        assert [struck(meter, manner) for meter in ((3, 4), (6, 8), (5, 4))] == [
            struck(meter) for meter in ((3, 4), (6, 8), (5, 4))
        ]


def test_a_fast_swung_tune_walks_and_every_other_goes_in_two():
    assert manner_of(Manner.BY_TUNE, quarter_bpm=Fraction(160), swung=True) is Manner.FOUR_BEAT
    assert manner_of(Manner.BY_TUNE, quarter_bpm=Fraction(160), swung=False) is Manner.TWO_BEAT
    assert manner_of(Manner.BY_TUNE, quarter_bpm=Fraction(90), swung=True) is Manner.TWO_BEAT
    assert manner_of(Manner.BOSSA, quarter_bpm=Fraction(160), swung=True) is Manner.BOSSA


def test_in_every_metre_there_is_begun_with_the_bass_and_nothing_is_struck_outside_the_bar():
    for meter in (Meter(beats, unit) for beats in (*range(1, 18), MAX_BEATS) for unit in UNITS):
        for manner in Manner:
            pattern = bar_pattern(meter, manner)
            assert (pattern[0].at, pattern[0].part) == (0, BandPart.BASS)
            places = [(one.at, one.part) for one in pattern]
            assert len(set(places)) == len(places)
            assert all(0 < one.length <= meter.bar_length - one.at for one in pattern)
