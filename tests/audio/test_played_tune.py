"""A passage as it is heard."""

from dataclasses import replace
from fractions import Fraction

import pytest

from game.audio.patterns import BandPart
from game.audio.played_tune import played_tune
from game.music.accompanying import Manner
from game.music.passage import Passage, whole_tune
from game.music.score import Reading, Score
from tests.audio.lead_sheets import basses, sheet

BARS = (sheet("r q, E5 e, D5 e, C5 h", "C 0"), sheet("D5 w"), sheet("E5 w", "G7 0"))


def passage(start: int = 0) -> Passage:
    return replace(whole_tune(Score(title="The Ford", reading=Reading.GUITAR, bars=BARS)), start=start)


def test_line_and_chords_count_from_the_bar_line_and_swing_alike():
    tune = played_tune(passage(), quarter_bpm=Fraction(120), swing=2.0, manner=Manner.BOSSA)
    assert [note.onset_s for note in tune.line.notes] == pytest.approx([0.5, 0.5 + 1 / 3, 1.0, 2.0, 4.0])
    assert tune.accompaniment is not None
    onsets_s = [float(one.onset_quarters) / 2 for one in tune.accompaniment.notes if one.part is BandPart.BASS]
    assert onsets_s[:2] == pytest.approx([0.0, 0.5 + 1 / 3])


def test_a_passage_in_the_middle_goes_on_with_the_chord_before_it():
    tune = played_tune(passage(start=1), quarter_bpm=Fraction(120), manner=Manner.TWO_BEAT)
    assert tune.accompaniment is not None
    assert basses(tune.accompaniment.notes) == "0 C, 2 G, 4 G, 6 D"


def test_without_a_manner_or_without_chords_the_line_is_alone():
    assert played_tune(passage(), quarter_bpm=Fraction(120), manner=None).accompaniment is None
    bare = whole_tune(Score(title="The Ford", reading=Reading.GUITAR, bars=(sheet("E5 w"),)))
    assert played_tune(bare, quarter_bpm=Fraction(120)).accompaniment is None
