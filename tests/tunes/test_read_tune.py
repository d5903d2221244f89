"""From a MusicXML text to our Score: notes, bars, octave and everything that is said about them."""

import sys

from game.tunes.read_tune import read_tune
from tests.tunes.hand_written import QUARTERS, pitch_names, score


def test_a_single_file_is_read_in_a_process_of_its_own_without_loading_music21_here():
    """The one-file path starts its own process."""
    before = "music21" in sys.modules
    assert pitch_names(read_tune(score(QUARTERS))) == ["C4", "D4", "E4", "F4"]
    assert ("music21" in sys.modules) == before
